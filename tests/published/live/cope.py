# SPDX-License-Identifier: GPL-3.0-or-later
"""Templates beside scipy's root finding: braces at angles and beside their chord's axis. For each angle around the brace, at many radii
through its wall, brentq finds where a line along the brace comes out of the chord (its distance from the chord's axis, as vectors, less
the radius); the largest over the wall is where a cut square through it seats. The program's line is read off its own drawing, in mm."""
import pathlib
import re
import subprocess
import sys
import tempfile

import numpy as np
from scipy.optimize import brentq, minimize_scalar

from outside import check

program = sys.argv[1]
# Chord's diameter, brace's, its wall, angle of the axes, offset, turn of the brace about the chord.
CASES = [(40, 25, 2, 90, 0, 0), (40, 26, 2, 60, 0, 25), (60, 40, 2.5, 45, 6, 70), (50, 30, 5, 75, -8, 10), (45, 44.9, 2, 80, 0, 40),
         (32, 20, 1.5, 33, 4, 120), (60, 28, 2, 50, 15, 200), (40, 39, 1, 38, 0.4, 300)]
UP = np.array([0.3, -0.5, 0.8])
SEEN = 0.015  # of a drawing whose places are written to 0.01 mm, both ways


def pose(k, case):
    chord_mm, _, _, angle, offset, turn = case
    a, t = np.radians(angle), np.radians(turn)
    chord = np.array([1.0, 0, 0])
    away = np.array([0, np.cos(t), np.sin(t)])
    brace = np.cos(a) * chord + np.sin(a) * away
    node = np.array([0, 4000.0 * k, 500])
    return chord, brace, node, offset * np.cross(chord, away)


def design(path):
    out = ['format = "seamwright.design/1"', 'name = "Tees"']
    for k, case in enumerate(CASES):
        chord, brace, node, aside = pose(k, case)
        for tube, d, w in (("c", case[0], 3), ("b", case[1], case[2])):
            out += ["[[tube]]", f'id = "{tube}{k}"', 'steel = "25CrMo4+N"', f"diameter_mm = {d}", f"wall_mm = {w}"]
        for n, p in (("w", node - 400 * chord), ("o", node), ("e", node + 400 * chord), ("t", node + 500 * brace)):
            out += ["[[node]]", f'id = "{n}{k}"', f"position_mm = {[float(x) for x in p]}"]
        out += ["[[member]]", f'id = "chord{k}"', f'tube = "c{k}"', f'nodes = ["w{k}", "o{k}", "e{k}"]']
        shift = [float(x) for x in aside]
        out += ["[[member]]", f'id = "brace{k}"', f'tube = "b{k}"', f'nodes = ["o{k}", "t{k}"]', f"up = {UP.tolist()}",
                f"start_offset_mm = {shift}", f"end_offset_mm = {shift}"]
        out += ["[[joint]]", f'id = "J{k}"', f'node = "o{k}"', 'kind = "tube-tee"', f'chord = "chord{k}"']
        out += ["[[weld]]", f'id = "W{k}"', f'joint = "J{k}"', f'member = "brace{k}"', "throat_mm = 2"]
        out += ["[[support]]", f'node = "w{k}"', 'fixed = ["ux", "uy", "uz", "rx", "ry", "rz"]']
    path.write_text("\n".join(out) + "\n")


def drawn(folder):
    """The heavy lines of the sheet, in its order: arrays of mm."""
    design(folder / "design.toml")
    subprocess.run([program, "sheet", "templates", str(folder), "--out", str(folder / "t.html")], check=True, stdout=subprocess.DEVNULL)
    html = (folder / "t.html").read_text()
    rows = re.findall(r'<polyline points="([^"]+)" fill="none" stroke="#[0-9A-F]{6}" stroke-width="0.350"', html)
    return [np.array([[float(v) for v in p.split(",")] for p in row.split()]) for row in rows]


def seat(k, case, phi):
    """Distance from the brace's end along it to where the wall at this angle from the top mark comes free of the chord."""
    chord, brace, node, aside = pose(k, case)
    out = -brace
    top = UP - UP @ brace * brace
    top /= np.linalg.norm(top)
    away = np.cos(phi) * top + np.sin(phi) * np.cross(out, top)

    def beyond(t, radius):
        p = node + aside + radius * away + t * brace - node
        return np.linalg.norm(p - p @ chord * chord) - case[0] / 2

    def reach(radius):  # the distance is convex in t: its least lies within, and the chord is left once after it
        least = minimize_scalar(lambda t: beyond(t, radius), bounds=(-300, 300), method="bounded", options={"xatol": 1e-10}).x
        return brentq(beyond, least, 450, args=(radius,), xtol=1e-10)

    inner, outer = case[1] / 2 - case[2], case[1] / 2
    best = minimize_scalar(lambda r: -reach(r), bounds=(inner, outer), method="bounded", options={"xatol": 1e-9})
    return max(-best.fun, reach(inner), reach(outer))


with tempfile.TemporaryDirectory() as name:
    lines = drawn(pathlib.Path(name))
assert len(lines) == len(CASES), len(lines)
# Every template is recognised by its width, which is its tube's circumference; no two cases are alike.
for k, case in enumerate(CASES):
    round_mm = np.pi * case[1]
    line = next(x for x in lines if abs(x[-1, 0] - x[0, 0] - round_mm) < 0.02)
    check(f"tube {case[1]} mm: width of the template", line[-1, 0] - line[0, 0], round_mm, 0.011, "pi times the diameter", "places to 0.01 mm")
    phi = np.linspace(-np.pi, np.pi, 121)
    expected = np.array([seat(k, case, p) for p in phi])
    line_mm = np.interp((phi + np.pi) * case[1] / 2, line[:, 0] - line[0, 0], line[:, 1])
    # The drawing's square cut is its long point: the same constant all round, found from both lines' least.
    off = (line_mm - line[:, 1].min()) - (expected - expected.min())
    off -= (off.max() + off.min()) / 2
    check(f"chord {case[0]}, brace {case[1]} x {case[2]}, {case[3]} degrees, offset {case[4]}: cut line, furthest apart", abs(off).max(), 0, SEEN,
          "scipy brentq and minimize_scalar", "places of the drawing to 0.01 mm")
