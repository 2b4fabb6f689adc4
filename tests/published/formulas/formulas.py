# SPDX-License-Identifier: GPL-3.0-or-later
"""Published formulas, typed a second time from their sources and evaluated apart from the program.

formulas.py prints formulas.txt; formulas.py FILE fails unless FILE is what it prints. A line is: name, inputs, "=", values.
test_formulas holds the engine to the lines to nine digits, so that no constant of a formula can change unseen.
"""
import math
import sys
from math import atan, exp, log10, pi, radians, sin, sqrt, tanh

from scipy.integrate import quad


# Peterson's Stress Concentration Factors, charts 3.4 (tension), 3.10 (bending), 3.12 (torsion): stepped round bar with shoulder
# fillet, C1 + C2 (2h/D) + C3 (2h/D)^2 + C4 (2h/D)^3; at the ends of the range of h/r outside it.
TENSION = ([0.1, 2.0, (0.926, 1.157, -0.099), (0.012, -3.036, 0.961), (-0.302, 3.977, -1.744), (0.365, -2.098, 0.878)],
           [2.0, 20.0, (1.200, 0.860, -0.022), (-1.805, -0.346, -0.038), (2.198, -0.486, 0.165), (-0.593, -0.028, -0.106)])
BENDING = ([0.1, 2.0, (0.947, 1.206, -0.131), (0.022, -3.405, 0.915), (0.869, 1.777, -0.555), (-0.810, 0.422, -0.260)],
           [2.0, 20.0, (1.232, 0.832, -0.008), (-3.813, 0.968, -0.260), (7.423, -4.868, 0.869), (-3.839, 3.070, -0.600)])
TORSION = ([0.25, 4.0, (0.905, 0.783, -0.075), (-0.437, -1.969, 0.553), (1.557, 1.073, -0.578), (-1.061, 0.171, 0.086)],)


def shoulder(large, small, fillet):
    height = (large - small) / 2

    def chart(ranges):
        x = min(max(height / fillet, ranges[0][0]), ranges[-1][1])
        least, most, *rows = next(r for r in ranges if x <= r[1])
        k = sum((a + b * sqrt(x) + c * x) * (2 * height / large) ** n for n, (a, b, c) in enumerate(rows))
        return max(1.0, k)

    return chart(TENSION), chart(BENDING), chart(TORSION)


# DNV-RP-C203 Appendix B, Tables B-1 and B-3.
def crown_7b(beta, gamma, tau, angle):
    return (3 + gamma**1.2 * (0.12 * exp(-4 * beta) + 0.011 * beta**2 - 0.045) - 1.2 * beta * tau,)


def k_axial(beta_a, gamma, tau, angle_a, beta_b, angle_b, zeta, overlap):
    a, b = sin(radians(angle_a)), sin(radians(angle_b))
    chord = (tau**0.9 * gamma**0.5 * (0.67 - beta_a**2 + 1.16 * beta_a) * a * (max(a, b) / min(a, b)) ** 0.30
             * (max(beta_a, beta_b) / min(beta_a, beta_b)) ** 0.30 * (1.64 + 0.29 * beta_a**-0.38 * atan(8 * zeta)))
    brace = (1 + (1.97 - 1.57 * beta_a**0.25) * tau**-0.14 * a**0.7 * chord
             + overlap * beta_a**1.5 * gamma**0.5 * tau**-1.22 * sin(radians(angle_a + angle_b)) ** 1.8
             * (0.131 - 0.084 * atan(14 * zeta + 4.2 * beta_a)))
    return chord, brace


# CIDECT Design Guide 8 (2000): square K joint with gap, each at least 2.0.
def square_k(width0, wall0, width1, wall1, angle, gap):
    b, g, tau, x, s = width1 / width0, width0 / wall0, wall1 / wall0, gap / wall0, sin(radians(angle))
    return (max(2.0, (0.48 * b - 0.5 * b * b - 0.012 / b + 0.012 / x) * g**1.72 * tau**0.78 * x**0.2 * s**2.09),
            max(2.0, (-0.008 + 0.45 * b - 0.34 * b * b) * g**1.36 * tau**-0.66 * s**1.29), max(2.0, (2.45 + 1.23 * b) * x**-0.27))


# Fessler, Mockford & Webster 1986: flexibility of the chord wall, T and Y joints.
def flexibility(diameter, wall, brace, angle, youngs):
    beta, gamma, s = brace / diameter, diameter / (2 * wall), sin(radians(angle))
    return (1.95 * gamma**2.15 * (1 - beta) ** 1.3 * s**2.19 / (youngs * diameter),
            134 * gamma**1.73 * exp(-4.52 * beta) * s**1.22 / (youngs * diameter**3),
            85.5 * gamma**2.2 * exp(-3.85 * beta) * s**2.16 / (youngs * diameter**3))


# EN 1993-1-8:2005, Tables 7.2 and 7.5: T and Y (0), X (1) and K with gap (2); partial factor 1, yield up to 355 MPa.
def tube_resistance(pattern, d0, t0, d1, angle, fy, n, gap):
    beta, gamma, s = d1 / d0, d0 / (2 * t0), sin(radians(angle))
    kp = min(1.0, 1 - 0.3 * n * (1 + n)) if n > 0 else 1.0
    if pattern == 0:
        face = gamma**0.2 * (2.8 + 14.2 * beta**2)
    elif pattern == 1:
        face = 5.2 / (1 - 0.81 * beta)
    else:
        face = gamma**0.2 * (1 + 0.024 * gamma**1.2 / (1 + exp(0.5 * gap / t0 - 1.33))) * (1.8 + 10.2 * beta)
    lever = fy * t0 * d1**2 / sqrt(3) / (4 * s**2)
    return (face * kp * fy * t0**2 / s, min(4.85 * fy * t0**2 * sqrt(gamma) * beta * d1 * kp / s, lever * (1 + 3 * s)),
            min(fy * t0**2 * d1 * 2.7 / (1 - 0.81 * beta) * kp / s, lever * (3 + s)))


# ISO 724 and ISO 898-1: thread; VDI 2230: torque.
def thread(d, pitch):
    d2, d3 = d - 0.6495 * pitch, d - 1.2269 * pitch
    return d2, d3, pi / 4 * ((d2 + d3) / 2) ** 2


def torque(d, pitch, preload, friction, head_friction, head):
    return (preload * (0.16 * pitch + 0.58 * thread(d, pitch)[0] * friction + head / 2 * head_friction),)


# Yurioka 1983 (CEN), 1987; Dueren 1986; Suzuki 1985.
def cen(c, si, mn, cu, ni, cr, mo, v, nb, b):
    return (c + (0.75 + 0.25 * tanh(20 * (c - 0.12))) * (si / 24 + mn / 6 + cu / 15 + ni / 20 + (cr + mo + v + nb) / 5 + 5 * b),)


def hardness(c, si, mn, cu, ni, cr, mo, v, nb, seconds):
    t = log10(seconds)
    ce1 = c + si / 24 + mn / 6 + cu / 15 + ni / 12 + cr * (1 - 0.16 * sqrt(cr)) / 8 + mo / 4
    ce2 = c + si / 24 + mn / 5 + cu / 10 + ni / 18 + cr / 5 + mo / 2.5 + v / 5 + nb / 3
    ce3 = c + mn / 3.6 + cu / 20 + ni / 9 + cr / 5 + mo / 4
    x = (t - 2.30 * ce1 - 1.35 * ce3 + 0.882) / (1.15 * ce1 - 0.673 * ce3 - 0.601)
    yurioka = 442 * c + 99 * ce2 + 206 + (402 * c - 90 * ce2 + 80) * atan(x)
    b = si / 11 + mn / 8 + cu / 9 + cr / 5 + ni / 17 + mo / 6 + v / 3
    between = 2019 * (c * (1 - 0.5 * t) + 0.3 * b) + 66 * (1 - 0.8 * t)
    dueren = min(max(between, 350 * (c + b) + 101), 802 * c + 305)
    pcm = c + si / 30 + (mn + cu + cr) / 20 + ni / 60 + mo / 15 + v / 10
    k = 237 + 1633 * c - 1157 * pcm
    suzuki = 884 * c + 287 - k + k / (1 + exp((566 + 5532 * c - 2880 * pcm) / k * (t - (-0.03 - 6.00 * c + 7.77 * pcm))))
    return yurioka, dueren, suzuki


# EN 1011-2:2001, Annex D, solved for the heat input in thin plate.
def heat_for_cooling(seconds, start, d, f2):
    return (d * sqrt(seconds / ((4300 - 4.3 * start) * 1e5 * f2 * (1 / (500 - start) ** 2 - 1 / (800 - start) ** 2))),)


# Zahoor 1985: through-wall crack around a tube, tension and bending.
def through_crack(radius, wall, half_angle):
    x, slender = half_angle / pi, radius / wall
    a = (0.125 * slender - 0.25 if slender <= 10 else 0.4 * slender - 3) ** 0.25
    return 1 + a * (5.3303 * x**1.5 + 18.773 * x**4.24), 1 + a * (4.5967 * x**1.5 + 2.6422 * x**4.24)


# DNV-RP-C210: length found with 90 % probability by eye with easy access, or with magnetic particles on ground welds; then C = 5.21e-13, m = 3 up to half the girth.
def growth(radius, wall, stress, magnetic):
    found = 4.03 * 9 ** (1 / 1.297) if magnetic else 15.78 * 9 ** (1 / 1.079)
    rate = lambda a: 5.21e-13 * (stress * through_crack(radius, wall, a / radius)[0] * sqrt(pi * a)) ** 3
    cycles, _ = quad(lambda a: 1 / rate(a), found / 2, pi * radius / 2, epsabs=0, epsrel=1e-12, limit=500)
    return found, cycles


# Wirsching & Light 1980.
def wirsching_light(m0, m2, m4, slope):
    a, b = 0.926 - 0.033 * slope, 1.587 * slope - 2.323
    return (a + (1 - a) * (1 - sqrt(1 - m2 * m2 / (m0 * m4))) ** b,)


# EN 1993-1-1, 6.3.1.2.
def buckling(imperfection, slenderness):
    if slenderness <= 0.2:
        return (1.0,)
    phi = (1 + imperfection * (slenderness - 0.2) + slenderness**2) / 2
    return (1 / (phi + sqrt(phi * phi - slenderness**2)),)


MILD = (0.09, 0.25, 1.45, 0.15, 0.30, 0.11, 0.05, 0.04, 0.03)
HARD = (0.26, 0.30, 0.75, 0.20, 0.15, 1.05, 0.22, 0.02, 0.01)
ROWS = [
    (shoulder, [(40, 30, r) for r in (100, 40, 9, 5, 2.5, 1.25, 0.5, 0.2)] + [(60, 20, r) for r in (120, 30, 11, 6, 3, 1.2)]),
    (crown_7b, [(0.3, 12, 0.4, 60), (0.7, 25, 0.9, 90)]),
    (k_axial, [(0.5, 14, 0.6, 50, 0.6, 40, -0.2, 1), (0.6, 20, 0.8, 60, 0.4, 45, 0.1, 0), (0.4, 12, 0.5, 35, 0.4, 70, -0.1, 1)]),
    (square_k, [(100, 5, 60, 3, 45, 30), (100, 10, 40, 3, 30, 2.5), (100, 10, 100, 3, 30, 60), (100, 4, 35, 4, 60, 5), (100, 10, 35, 10, 30, 2.5)]),
    (flexibility, [(60, 2, 30, 45, 210000), (50, 1.5, 35, 75, 205000), (60, 3, 25, 90, 210000)]),
    (tube_resistance, [(0, 100, 5, 60, 60, 235, 0, 0), (1, 100, 5, 60, 45, 275, 0.3, 0), (2, 100, 5, 60, 50, 355, 0.5, 8),
                       (2, 100, 4, 50, 35, 235, 0.2, 3), (0, 100, 10, 70, 90, 235, -0.5, 0), (0, 100, 10, 75, 50, 235, 0, 0)]),
    (thread, [(10, 1.5), (8, 1.25)]),
    (torque, [(10, 1.5, 20000, 0.12, 0.14, 13), (8, 1, 15000, 0.15, 0.10, 10.3)]),
    (cen, [(*MILD, 0.0005), (*HARD, 0.001), (0.13, 0.3, 1.2, 0.1, 0.1, 0.2, 0.1, 0.02, 0.01, 0)]),
    (hardness, [(*steel, t) for steel in (MILD, HARD) for t in (0.5, 2, 5, 12, 40, 300)]),
    (heat_for_cooling, [(10, 20, 2, 1), (25, 150, 3, 0.67)]),
    (through_crack, [(60, 10, 0.5), (60, 6, 1.2), (63, 6, 1.2), (60, 4, 1.6)]),
    (growth, [(60, 5, 40, 0), (80, 10, 25, 0), (29, 2, 40, 1), (18, 1.5, 30, 1)]),
    (wirsching_light, [(100, 2500, 90000, 3), (100, 2500, 90000, 5), (40, 500, 9000, 4)]),
    (buckling, [(0.34, 0.19), (0.34, 0.25), (0.49, 0.29), (0.21, 1.3)]),
]


def text():
    number = lambda x: f"{x:.12g}"
    return "".join(f"{f.__name__} {' '.join(map(number, row))} = {' '.join(map(number, f(*row)))}\n" for f, rows in ROWS for row in rows)


if __name__ == "__main__":
    if len(sys.argv) == 1:
        print(text(), end="")
    elif open(sys.argv[1], encoding="utf-8").read() != text():
        sys.exit(f"{sys.argv[1]} is not what formulas.py prints")
