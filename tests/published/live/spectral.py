# SPDX-License-Identifier: GPL-3.0-or-later
"""Damage of Gaussian stresses by SciPy, from the published densities of ranges, beside the program's figure.

Spectra: two blocks and a resonance; S-N curve T of the program's catalog (two slopes), read through `figure sn-life`.
Densities: Rayleigh (Miles 1954); Dirlik 1985; Tovo & Benasciutti 2005; Wirsching & Light 1980 [all from memory]. The
last test simulates the signal and counts it with a rainflow of its own.
"""
import json
import subprocess
import sys

import numpy as np
from scipy.integrate import quad

from outside import check

program = sys.argv[1]


def figure(name, **given):
    out = subprocess.run([program, "figure", name, *[f"{k}={v!r}" if not isinstance(v, str) else f"{k}={v}" for k, v in given.items()], "--json"],
                         capture_output=True, text=True)
    assert out.returncode in (0, 1), out.stderr
    return json.loads(out.stdout)["value"]


# Curve T by three of its points: two slopes and the knee between them.
life = {s: figure("sn-life", curve="T", range_mpa=s, thickness_mm=10.0) for s in (200.0, 100.0, 20.0, 10.0)}
k1 = np.log(life[100.0] / life[200.0]) / np.log(2)
k2 = np.log(life[10.0] / life[20.0]) / np.log(2)
c1, c2 = life[200.0] * 200**k1, life[10.0] * 10**k2
knee = (c1 / 1e7)**(1 / k1)  # the first slope reaches to 10^7 cycles; the lines meet within rounding
assert abs(k1 - 3) < 1e-3 and abs(k2 - 5) < 1e-3


def damage(s):
    return s**k1 / c1 if s >= knee else s**k2 / c2


def moments(spectrum, low, high):
    edges = np.linspace(low, high, 41)
    return [sum(quad(lambda f: f**n * spectrum(f), a, b, epsrel=1e-10)[0] for a, b in zip(edges, edges[1:])) for n in (0, 1, 2, 4)]


def expected(m0, m1, m2, m4, hours):
    sigma, crossings, peaks = np.sqrt(m0), np.sqrt(m2 / m0), np.sqrt(m4 / m2)
    g, a1, xm = m2 / np.sqrt(m0 * m4), m1 / np.sqrt(m0 * m2), m1 / m0 * np.sqrt(m2 / m4)
    d1 = 2 * (xm - g * g) / (1 + g * g)
    r = (g - xm - d1**2) / (1 - g - d1 + d1**2)
    d2 = (1 - g - d1 + d1**2) / (1 - r)
    d3 = 1 - d1 - d2
    q = 1.25 * (g - d3 - d2 * r) / d1
    rayleigh = lambda s, scale: s / (4 * scale**2) * np.exp(-s**2 / (8 * scale**2))
    dirlik = lambda s: (d1 / q * np.exp(-s / 2 / sigma / q) + d2 * s / 2 / sigma / r**2 * np.exp(-(s / 2 / sigma / r)**2 / 2)
                        + d3 * s / 2 / sigma * np.exp(-(s / 2 / sigma)**2 / 2)) / 2 / sigma

    def total(density, lower=0, upper=np.inf):
        points = sorted({lower, *[x for x in (knee, *(sigma * np.array([0.5, 1, 2, 4, 8, 16, 32, 64]))) if lower < x < upper], min(upper, 200 * sigma)})
        return sum(quad(lambda s: density(s) * damage(s), a, b, epsrel=1e-10)[0] for a, b in zip(points, points[1:]))

    b = (a1 - g) * (1.112 * (1 + a1 * g - a1 - g) * np.exp(2.11 * g) + a1 - g) / (g - 1)**2
    narrow = crossings * total(lambda s: rayleigh(s, sigma))
    # Narrow band of the share b, and of the share 1 - b with the amplitudes of peaks: sigma g at the rate of peaks.
    tovo = b * narrow + (1 - b) * peaks * total(lambda s: rayleigh(s, g * sigma))
    light = 0
    for k, lower, upper in ((k1, knee, np.inf), (k2, 0, knee)):
        a, e = 0.926 - 0.033 * k, 1.587 * k - 2.323
        light += (a + (1 - a) * (1 - np.sqrt(1 - g * g))**e) * crossings * total(lambda s: rayleigh(s, sigma), lower, min(upper, 200 * sigma))
    seconds = 3600 * hours
    return {"dirlik": seconds * peaks * total(dirlik), "tovo-benasciutti": seconds * tovo, "narrow-band": seconds * narrow, "wirsching-light": seconds * light}


resonance = lambda f: 40 / ((1 - (f / 6.4)**2)**2 + (2 * 0.05 * f / 6.4)**2)
cases = {"flat": (lambda f: 10.0, 1, 20), "resonance": (resonance, 0.25, 40)}
for name, (spectrum, low, high) in cases.items():
    m = moments(spectrum, low, high)
    seen = figure("spectral-damage", curve="T", thickness_mm=10.0, hours=10.0, **dict(zip(("m0", "m1", "m2", "m4"), map(float, m))))
    for model, value in expected(*m, 10).items():
        check(f"damage of the {name} spectrum by {model}", seen[model], value, 1e-6 * value,
              "SciPy's quadrature of the densities of Miles 1954, Dirlik 1985, Tovo & Benasciutti 2005, Wirsching & Light 1980 [from memory]",
              "accuracy of the quadrature")

# Simulated and counted: the resonance, 2000 s, four-point rainflow with the residue's ranges as half cycles.
random = np.random.default_rng(20261125)
m = moments(resonance, 0.25, 40)
rate, size = 400, 400 * 2000
f = np.fft.rfftfreq(size, 1 / rate)
inside = (f >= 0.25) & (f <= 40)
lines = np.zeros(len(f), complex)
lines[inside] = np.sqrt(resonance(f[inside]) * (f[1] - f[0]) / 2) * (random.normal(size=inside.sum()) + 1j * random.normal(size=inside.sum())) * size / np.sqrt(2)
signal = np.fft.irfft(lines, size)
turns = signal[np.r_[True, (np.diff(signal)[1:] * np.diff(signal)[:-1]) < 0, True]]
stack, ranges = [], []
for x in turns:
    stack.append(x)
    while len(stack) >= 4:
        a, b, c, d = stack[-4:]
        if not (abs(b - c) <= abs(a - b) and abs(b - c) <= abs(c - d)):
            break
        ranges.append((abs(b - c), 1))
        stack[-3:] = [d]
ranges += [(abs(a - b), 0.5) for a, b in zip(stack, stack[1:])]
counted = sum(n * damage(s) for s, n in ranges) / 2000
seen = figure("spectral-damage", curve="T", thickness_mm=10.0, hours=1 / 3600, **dict(zip(("m0", "m1", "m2", "m4"), map(float, m))))
check("damage of the resonance by Dirlik, a second", seen["dirlik"], counted, 0.1 * counted,
      "numpy: a signal of 2000 s simulated and counted by a rainflow of the script's own", "one realisation")
