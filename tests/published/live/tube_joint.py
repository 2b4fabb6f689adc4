# SPDX-License-Identifier: GPL-3.0-or-later
"""Two round T joints as shells in CalculiX (general finite elements), beside the program's stress concentration factors (Efthymiou
1988, DNV-RP-C203 Appendix B, Table B-1): chord and brace side, crown and saddle, axial, in-plane and out-of-plane load.

The model: eight-node shells (S8R) on the mid-surfaces, chord ends fixed, no weld. The chord's wall goes through under the brace.
CalculiX makes solids of the shells and ties them rigidly where the walls meet. Fully integrated S8 approach the same from the stiff side
(chord saddle, axial, first joint: S8 11.90 and 12.19, S8R 12.94 and 12.75, coarse and fine). A brace of eight diameters in place of
five changes the coarse models' factors by 2 % at most.

The hot-spot stress is the stress normal to the seam on the outer surface, extrapolated linearly to the toe from 0.4 of the wall (at
least 4 mm) and from 0.65 sqrt(r t) on the brace, 0.09 R at the chord's saddle, 0.4 (R T r t)^(1/4) at its crown, R and r outside radii
(CIDECT Design Guide 8, ISO 14347 [from memory]). A shell model has no toe, so two lines stand for it: where the mid-surfaces meet,
which lies inside the other tube's wall, and where the outer surfaces meet. A real toe lies a weld's leg beyond the second.

Found, as shells over equation:
- Toe where mid-surfaces meet: chord saddle, and chord crown in bending, +13 to +25 %; brace +6 to +47 %, most at the saddle, axial load.
- Toe where outer surfaces meet: the same places of the chord -6 to +12 %; brace saddle -6 to +15 %; brace crown -24 to -34 %.
- Chord crown under axial load: -13 to -17 % by either line. The chord's own bending, P L / 8 times 1.27 as equation 6b has it, is much
  of that factor; taken times 1, as equation 2 has it, it leaves -5 to -11 %.
- At the saddles under axial load the shells are above the equation by both lines.
The stress falls steeply within half a wall of the seam, most on the brace: where the toe is said to be matters far more than the mesh
(coarse to fine: 1.6 % at most on the first joint; 2.7 % on the second, of which only the coarse mesh is run here). Without a weld in the
model nothing finer can be said than the limits below, which hold what was found with 3 to 6 % to spare.
"""
import json
import pathlib
import subprocess
import sys
import tempfile

import numpy as np
from scipy.spatial import cKDTree

from outside import check

program = sys.argv[1]
CASES = ("axial", "in_plane", "out_of_plane")
SPOTS = [(side, spot, case) for side in ("chord", "brace") for spot, case in
         (("saddle", "axial"), ("crown", "axial"), ("crown", "in_plane"), ("saddle", "out_of_plane"))]
MESHES = {"coarse": (6, 1, 1.3), "fine": (10, 2, 1.2)}  # elements along a quarter of the seam, within 0.4 of the wall, growth away from it
# Limits of shells over equation less 1: see above.
LIMITS = {"mid-surfaces": {"chord": (-0.20, 0.30), "brace": (0.0, 0.50)},
          "outer surfaces": {"chord": (-0.22, 0.17), "brace": (-0.40, 0.20)}}
DENSITIES, NOMINAL = 0.03, 0.01  # coarse beside fine; stress halfway up the brace beside 1 MPa


def modulus(diameter, wall):
    return np.pi / 32 * (diameter ** 4 - (diameter - 2 * wall) ** 4) / diameter


class Joint:
    """Outside diameters and walls of chord (D, T) and brace (d, t), mm; the chord L long between fixed ends, the brace's free end
    five diameters above the chord."""

    def __init__(self, D, T, L, d, t):
        self.D, self.T, self.L, self.d, self.t = D, T, L, d, t
        self.R, self.r = (D - T) / 2, (d - t) / 2  # of the mid-surfaces
        self.top = D / 2 + 5 * d
        self.area, self.modulus = np.pi / 4 * (d ** 2 - (d - 2 * t) ** 2), modulus(d, t)

    def toe(self, reading):
        """(radius to the chord's axis, radius to the brace's axis) of the line that stands for the weld toe."""
        return (self.R, self.r) if reading == "mid-surfaces" else (self.D / 2, self.d / 2)

    def readouts(self, side, spot):
        """Distances from the toe of the two stresses that are extrapolated."""
        near = 0.4 * (self.T if side == "chord" else self.t)
        assert near >= 4
        if side == "brace":
            return near, 0.65 * np.sqrt(self.d / 2 * self.t)
        return near, 0.09 * self.D / 2 if spot == "saddle" else 0.4 * (self.D / 2 * self.T * self.d / 2 * self.t) ** 0.25


def with_midpoints(corners):
    out = np.empty(2 * len(corners) - 1)
    out[::2] = corners
    out[1::2] = (corners[:-1] + corners[1:]) / 2
    return out


def graded(length, first, growth):
    """Shares 0..1 of the length: elements that grow from the first, with their midpoints."""
    n = max(2, round(np.log(1 + length * (growth - 1) / first) / np.log(growth)))
    return with_midpoints((growth ** np.arange(n + 1) - 1) / (growth ** n - 1))


class Mesh:
    """Eight-node quadrilaterals on the mid-surfaces. Nodes at one place are one, so blocks join by themselves."""

    def __init__(self, joint, along_quarter, within_toe, growth):
        self.number, self.list, self.elements = {}, [], {"CHORD": [], "BRACE": []}
        R, r, half, core = joint.R, joint.r, 2 * joint.r, 0.47 * joint.r  # half sides of the squares around and inside the seam

        def chord(x, s):  # rolls up the plane of x along the chord and s around it
            self.block("CHORD", np.stack([x, R * np.sin(s / R), R * np.cos(s / R)], axis=-1))

        phi = np.radians(np.linspace(-45, 45, 2 * along_quarter + 1))
        tangent = with_midpoints(np.tan(phi[::2]))
        outwards, inwards = graded(half - r, 0.4 * joint.T / within_toe, growth), graded(r - core, 0.4 * joint.T / within_toe, 1.4)
        upwards = graded(joint.top - R, 0.4 * joint.t / within_toe, growth)
        for quarter in range(4):
            turn = np.linalg.matrix_power(np.array([[0, -1], [1, 0]]), quarter).T
            seam = r * np.stack([np.cos(phi), np.sin(phi)], axis=-1) @ turn
            flat = np.stack([seam[:, 0], R * np.arcsin(seam[:, 1] / R)], axis=-1)
            square = np.stack([np.ones_like(tangent), tangent], axis=-1) @ turn
            chord(*np.moveaxis(flat + outwards[:, None, None] * (half * square - flat), -1, 0))
            chord(*np.moveaxis((flat + inwards[:, None, None] * (core * square - flat))[::-1], -1, 0))
            z = np.sqrt(R ** 2 - seam[:, 1] ** 2)
            z = z[:, None] + upwards * (joint.top - z)[:, None]
            self.block("BRACE", np.stack([*np.broadcast_arrays(seam[:, :1], seam[:, 1:], z)], axis=-1))
        ahead = half + (joint.L / 2 - half) * graded(joint.L / 2 - half, 2 * half / along_quarter, 1.15)
        around = np.linspace(half, 2 * np.pi * R - half, 4 * along_quarter + 1)
        inside, across = core * tangent, half * tangent
        for x, s in ((inside, inside), (across, around), *((x, s) for x in (ahead, -ahead[::-1]) for s in (across, around))):
            chord(*np.meshgrid(x, s, indexing="ij"))
        self.places = np.array(self.list)

    def block(self, part, points):
        """A grid of points, corners at even indices; the outward normal is the first index's direction times the second's."""
        def node(i, j):
            key = tuple(np.round(points[i, j], 4) + 0.0)
            if key not in self.number:
                self.number[key] = len(self.list) + 1
                self.list.append(points[i, j])
            return self.number[key]

        for i in range(0, points.shape[0] - 1, 2):
            for j in range(0, points.shape[1] - 1, 2):
                ring = ((0, 0), (2, 0), (2, 2), (0, 2), (1, 0), (2, 1), (1, 2), (0, 1))
                self.elements[part].append([node(i + a, j + b) for a, b in ring])


def end_loads(joint, mesh):
    """Forces along the brace at its free end for a nominal stress of 1 MPa, N/A or M/W: (node, N) by case. A moment is a pure one,
    so it is the same at the chord's surface."""
    end = np.flatnonzero(abs(mesh.places[:, 2] - joint.top) < 1e-6)
    corners = {n - 1 for e in mesh.elements["BRACE"] for n in e[:4]}
    weight = np.array([1.0 if i in corners else 2.0 for i in end])  # a constant line load on quadratic edges
    x, y = mesh.places[end, :2].T
    axial, in_plane, out_of_plane = joint.area / weight.sum(), joint.modulus * x / (weight @ x ** 2), joint.modulus * y / (weight @ y ** 2)
    return {case: list(zip(end + 1, weight * f)) for case, f in zip(CASES, (axial, in_plane, out_of_plane))}


def write(joint, mesh, path):
    held = np.flatnonzero(abs(abs(mesh.places[:, 0]) - joint.L / 2) < 1e-6) + 1
    deck = ["*NODE, NSET=ALL"] + [f"{i + 1}, {p[0]:.7f}, {p[1]:.7f}, {p[2]:.7f}" for i, p in enumerate(mesh.places)]
    first = 1
    for part, wall in (("CHORD", joint.T), ("BRACE", joint.t)):
        rows = mesh.elements[part]
        deck += [f"*ELEMENT, TYPE=S8R, ELSET={part}"] + [", ".join(map(str, (first + i, *e))) for i, e in enumerate(rows)]
        deck += [f"*SHELL SECTION, ELSET={part}, MATERIAL=STEEL", str(wall)]
        first += len(rows)
    deck += ["*MATERIAL, NAME=STEEL", "*ELASTIC", "210000., .3", "*NSET, NSET=HELD"] + [str(i) for i in held]
    deck += ["*BOUNDARY", "HELD, 1, 3"]
    for case, forces in end_loads(joint, mesh).items():
        deck += ["*STEP", "*STATIC", "*CLOAD, OP=NEW"] + [f"{n}, 3, {f:.9g}" for n, f in forces]
        deck += ["*NODE PRINT, NSET=HELD, TOTALS=ONLY", "RF", "*EL FILE, OUTPUT=3D", "S", "*END STEP"]
    path.write_text("\n".join(deck) + "\n")


class Results:
    """Stresses at the nodes of the solids that CalculiX makes of the shells."""

    def __init__(self, folder, joint, density):
        self.joint, self.mesh = joint, Mesh(joint, *MESHES[density])
        write(joint, self.mesh, folder / "joint.inp")
        done = subprocess.run(["ccx", "joint"], cwd=folder, capture_output=True, text=True)
        assert done.returncode == 0 and "*ERROR" not in done.stdout, done.stdout[-2000:]
        lines = (folder / "joint.dat").read_text().splitlines()
        totals = [np.array(lines[i + 2].split(), float) for i, x in enumerate(lines) if "total force" in x]
        self.reactions = dict(zip(CASES, totals, strict=True))
        blocks, rows = [], None
        for line in (folder / "joint.frd").read_text().splitlines():
            if line.startswith("    2C") or line.startswith(" -4  STRESS"):
                rows = {}
                blocks.append(rows)
            elif line.startswith(" -1") and rows is not None:
                rows[int(line[3:13])] = [float(line[k:k + 12]) for k in range(13, len(line), 12)]
            elif line.startswith(" -3"):
                rows = None
        order = list(blocks[0])
        self.tree = cKDTree([blocks[0][n] for n in order])
        self.stress = {case: np.array([b[n] for n in order]) for case, b in zip(CASES, blocks[1:], strict=True)}

    def line(self, side, spot, case):
        """The outer surface through the seam at +x (crown) or +y (saddle): place (z on the brace; on the chord x, or the angle
        around it, rad) and the stress normal to the seam, MPa."""
        j, across = self.joint, 0 if spot == "saddle" else 1
        p = self.mesh.places[np.unique(self.mesh.elements[side.upper()]) - 1]
        p = p[(abs(p[:, across]) < 1e-6) & (p[:, 1 - across] > 0) & (p[:, 2] > 0)]
        around = np.arctan2(p[:, 1], p[:, 2])
        if side == "brace":
            outer, place, along = p * [j.d / 2 / j.r, j.d / 2 / j.r, 1], p[:, 2], np.tile([0.0, 0, 1], (len(p), 1))
        else:
            outer = p * [1, j.D / 2 / j.R, j.D / 2 / j.R]
            if spot == "saddle":
                place, along = around, np.stack([0 * around, np.cos(around), -np.sin(around)], axis=-1)
            else:
                place, along = p[:, 0], np.tile([1.0, 0, 0], (len(p), 1))
        gap, i = self.tree.query(outer)
        assert gap.max() < 0.1
        s = self.stress[case][i]
        tensor = s[:, [0, 3, 5, 3, 1, 4, 5, 4, 2]].reshape(-1, 3, 3)
        order = np.argsort(place)
        return place[order], np.einsum("ni,nij,nj->n", along, tensor, along)[order]

    def hot_spot(self, side, spot, case, reading):
        """Linear extrapolation to the toe, MPa: a factor, as the nominal stress is 1."""
        R, r = self.joint.toe(reading)
        place, stress = self.line(side, spot, case)
        if side == "brace":
            distance = place - (np.sqrt(R ** 2 - r ** 2) if spot == "saddle" else R)
        else:
            distance = self.joint.D / 2 * (place - np.arcsin(r / R)) if spot == "saddle" else place - r
        a, b = self.joint.readouts(side, spot)
        near, far = np.interp([a, b], distance, stress)
        return near + (near - far) * a / (b - a)

    def nominal(self, case):
        """Stress halfway up the brace. Under axial load the mean of crown and saddle: the seam's oval fades slowly, and drops out of it."""
        spots = {"axial": ("crown", "saddle"), "in_plane": ("crown",), "out_of_plane": ("saddle",)}[case]
        return np.mean([np.interp((self.joint.D / 2 + self.joint.top) / 2, *self.line("brace", spot, case)) for spot in spots])


def equations(joint):
    """The program's factors. At the crown under axial load the chord's own bending comes on top: P L / 8 between fixed ends."""
    sizes = {"chord_diameter_mm": joint.D, "chord_wall_mm": joint.T, "chord_length_mm": joint.L, "brace_diameter_mm": joint.d,
             "brace_wall_mm": joint.t, "fixity": 0.5}
    asked = [program, "figure", "scf", *(f"{k}={v}" for k, v in sizes.items()), "--json"]
    found = json.loads(subprocess.run(asked, check=True, capture_output=True, text=True).stdout)
    assert found["evidence"]["coverage"] == "inside"
    v, own = found["value"], joint.area * joint.L / 8 / modulus(joint.D, joint.T)
    out = {(side, spot, case): v[f"{side}_{case}" + (f"_{spot}" if case == "axial" else "")] for side, spot, case in SPOTS}
    out["chord", "crown", "axial"] += own * v["chord_own_stress"]
    out["brace", "crown", "axial"] += own * v["chord_own_stress_brace_side"]
    return out


def compare(joint, densities):
    with tempfile.TemporaryDirectory() as folder:
        r = {density: Results(pathlib.Path(folder), joint, density) for density in densities}
    print(f"chord {joint.D:g} x {joint.T:g}, {joint.L:g} long, brace {joint.d:g} x {joint.t:g} mm; "
          + ", ".join(f"{k} {sum(map(len, x.mesh.elements.values()))} elements" for k, x in r.items()))
    for density, x in r.items():
        for case in CASES:
            wanted = np.array([0, 0, -joint.area if case == "axial" else 0])
            assert abs(x.reactions[case] - wanted).max() < 1e-5 * joint.area, (density, case, x.reactions[case])
        far = {case: x.nominal(case) for case in CASES}
        worst = max(far, key=lambda k: abs(far[k] - 1))
        print(f"  {density}: reactions balance the loads; halfway up the brace {worst} {far[worst]:.3f} MPa at worst (1 +- {NOMINAL})")
        assert abs(far[worst] - 1) < NOMINAL, worst
    best, expected = r[densities[-1]], equations(joint)
    for reading, limits in LIMITS.items():
        for at in SPOTS:
            obtained = best.hot_spot(*at, reading)
            off, (low, high) = obtained / expected[at] - 1, limits[at[0]]
            other = max(abs(x.hot_spot(*at, reading) / obtained - 1) for x in r.values())
            assert low < off < high, (at, reading, off)
            assert other < DENSITIES, (at, reading, other)
            check(f"T joint {joint.D:g} x {joint.T:g} and {joint.d:g} x {joint.t:g}, {' '.join(at)}, toe where {reading} meet: factor",
                  expected[at], obtained, max(-low, high) * expected[at], "CalculiX, shells S8R, finer of two meshes",
                  f"no weld in the shells: {low:+.0%} to {high:+.0%} of the equation is what was found with some 5 % to spare")


compare(Joint(500, 20, 3500, 250, 16), ("coarse", "fine"))
compare(Joint(400, 12.5, 3200, 140, 10), ("coarse",))
