# SPDX-License-Identifier: GPL-3.0-or-later
"""TODO"""
import json
import pathlib
import subprocess
import sys
import tempfile
import time

import numpy as np
from scipy.spatial import cKDTree

program = sys.argv[1]
D, T, L = 500.0, 20.0, 3500.0
d, t = 250.0, 16.0
HEIGHT = 1500.0  # from the chord's axis to the brace's free end
R, r = (D - T) / 2, (d - t) / 2  # of the mid-surfaces
HALF = 230.0  # of the square patch around the brace, on the unrolled chord
CORE = 55.0  # of the square block under the brace
CASES = ("axial", "in_plane", "out_of_plane")


def graded(length, first, growth):
    """Shares 0..1 of the length, elements growing from the first; every second one a midpoint."""
    n = max(2, round(np.log(1 + length * (growth - 1) / first) / np.log(growth)))
    corners = (growth ** np.arange(n + 1) - 1) / (growth ** n - 1)
    return with_midpoints(corners)


def with_midpoints(corners):
    out = np.empty(2 * len(corners) - 1)
    out[::2] = corners
    out[1::2] = (corners[:-1] + corners[1:]) / 2
    return out


class Mesh:
    """Eight-node quadrilaterals; nodes at the same place are one."""

    def __init__(self):
        self.number, self.places, self.elements = {}, [], {"CHORD": [], "BRACE": []}

    def node(self, p):
        key = tuple(np.round(p, 4) + 0.0)
        if key not in self.number:
            self.number[key] = len(self.places) + 1
            self.places.append(p)
        return self.number[key]

    def block(self, part, points):
        """A grid of points (2m+1, 2n+1, 3), index order giving the outward normal."""
        m, n = points.shape[0], points.shape[1]
        number = {(i, j): self.node(points[i, j]) for i in range(m) for j in range(n) if not (i % 2 and j % 2)}
        for i in range(0, m - 1, 2):
            for j in range(0, n - 1, 2):
                ring = [(0, 0), (2, 0), (2, 2), (0, 2), (1, 0), (2, 1), (1, 2), (0, 1)]
                self.elements[part].append([number[i + a, j + b] for a, b in ring])


def rolled(x, s):
    return np.stack([x, R * np.sin(s / R), R * np.cos(s / R)], axis=-1)


def build(sides, fineness, growth):
    """The whole joint: sides = elements along a quarter of the seam, fineness = elements within 0.4 of the wall."""
    mesh = Mesh()
    phi = np.radians(np.linspace(-45, 45, 2 * sides + 1))
    tangent = with_midpoints(np.tan(phi[::2]))
    out = graded(HALF - r, 0.4 * T / fineness, growth)
    inwards = graded(r - CORE, 0.4 * T / fineness, 1.4)
    up = graded(HEIGHT - R, 0.4 * t / fineness, growth)
    for quarter in range(4):
        turn = np.array([[0, -1], [1, 0]])
        turn = np.linalg.matrix_power(turn, quarter)
        seam = r * np.stack([np.cos(phi), np.sin(phi)]).T @ turn.T  # x, y
        flat = np.stack([seam[:, 0], R * np.arcsin(seam[:, 1] / R)]).T  # x, s on the unrolled chord
        square = np.stack([np.ones_like(tangent), tangent]).T @ turn.T
        for far, shares, outward in ((HALF * square, out, True), (CORE * square, inwards, False)):
            grid = flat[None] + shares[:, None, None] * (far - flat)[None]
            grid = grid if outward else grid[::-1]
            mesh.block("CHORD", rolled(grid[..., 0], grid[..., 1]))
        z = np.sqrt(R ** 2 - seam[:, 1] ** 2)
        high = z[None] + up[:, None] * (HEIGHT - z)[None]
        wall = np.stack([np.broadcast_to(seam[:, 0], high.shape), np.broadcast_to(seam[:, 1], high.shape), high], axis=-1)
        mesh.block("BRACE", wall.swapaxes(0, 1))
    x, s = np.meshgrid(CORE * tangent, CORE * tangent, indexing="ij")
    mesh.block("CHORD", rolled(x, s))
    along = HALF + (L / 2 - HALF) * graded(L / 2 - HALF, 2 * HALF / sides, 1.15)
    around = np.linspace(HALF, 2 * np.pi * R - HALF, 4 * sides + 1)
    for xs, ss in ((along, HALF * tangent), (-along[::-1], HALF * tangent), (HALF * tangent, around), (along, around), (-along[::-1], around)):
        x, s = np.meshgrid(xs, ss, indexing="ij")
        mesh.block("CHORD", rolled(x, s))
    return mesh


def end_loads(mesh):
    """Forces at the brace's free end for a nominal stress of 1 MPa: N/A, M/W with the outside diameter. Positive in-plane moment
    puts tension at +x, positive out-of-plane tension at +y (here alone)."""
    places = np.array(mesh.places)
    top = np.flatnonzero(abs(places[:, 2] - HEIGHT) < 1e-6)
    top = top[np.argsort(np.arctan2(places[top, 1], places[top, 0]))]
    corners = {n for e in mesh.elements["BRACE"] for n in e[:4]}
    weight = np.array([1 if i + 1 in corners else 2 for i in top], float)
    weight /= weight.sum()
    x, y = places[top, 0], places[top, 1]
    area, modulus = np.pi / 4 * (d ** 2 - (d - 2 * t) ** 2), np.pi / 32 * (d ** 4 - (d - 2 * t) ** 4) / d
    shapes = {"axial": area * weight, "in_plane": weight * x * modulus / (weight * x * x).sum(),
              "out_of_plane": weight * y * modulus / (weight * y * y).sum()}
    return area, {case: list(zip(top + 1, f)) for case, f in shapes.items()}


def calculix(folder, mesh):
    area, loads = end_loads(mesh)
    places = np.array(mesh.places)
    held = np.flatnonzero(abs(abs(places[:, 0]) - L / 2) < 1e-6) + 1
    deck = ["*NODE, NSET=ALL"] + [f"{i + 1}, {p[0]:.7f}, {p[1]:.7f}, {p[2]:.7f}" for i, p in enumerate(places)]
    count = 0
    for part, rows in mesh.elements.items():
        deck.append(f"*ELEMENT, TYPE=S8R, ELSET={part}")
        for e in rows:
            count += 1
            deck.append(", ".join(map(str, [count, *e])))
    deck += ["*NSET, NSET=HELD"] + [str(i) for i in held]
    deck += ["*MATERIAL, NAME=STEEL", "*ELASTIC", "210000., .3"]
    deck += ["*SHELL SECTION, ELSET=CHORD, MATERIAL=STEEL", str(T), "*SHELL SECTION, ELSET=BRACE, MATERIAL=STEEL", str(t)]
    deck += ["*BOUNDARY", "HELD, 1, 3"]
    for case in CASES:
        deck += ["*STEP", "*STATIC", "*CLOAD, OP=NEW"]
        deck += [f"{n}, 3, {f:.9g}" for n, f in loads[case]]
        deck += ["*NODE PRINT, NSET=HELD, TOTALS=ONLY", "RF", "*EL FILE, OUTPUT=3D", "S", "*END STEP"]
    (pathlib.Path(folder) / "joint.inp").write_text("\n".join(deck) + "\n")
    done = subprocess.run(["ccx", "joint"], cwd=folder, capture_output=True, text=True)
    assert done.returncode == 0 and "*ERROR" not in done.stdout, done.stdout[-2000:]
    where, stresses, target = {}, [], None
    with open(pathlib.Path(folder) / "joint.frd") as f:
        for line in f:
            if line.startswith("    2C"):
                target = where
            elif line.startswith(" -4"):
                target = {} if line.split()[1] == "STRESS" else None
                if target is not None:
                    stresses.append(target)
            elif line.startswith(" -3"):
                target = None
            elif line.startswith(" -1") and target is not None:
                target[int(line[3:13])] = [float(line[k:k + 12]) for k in range(13, len(line.rstrip()), 12)]
    print((pathlib.Path(folder) / "joint.dat").read_text())
    return area, where, stresses


folder = sys.argv[3] if len(sys.argv) > 3 else tempfile.mkdtemp()
for sides, fineness, growth in ((6, 1, 1.3), (10, 2, 1.2)):
    a = time.time()
    mesh = build(sides, fineness, growth)
    area, where, stresses = calculix(folder, mesh)
    numbers = np.array(list(where))
    places = np.array([where[n] for n in numbers])
    tree = cKDTree(places)
    print(len(mesh.places), {k: len(v) for k, v in mesh.elements.items()}, len(numbers), len(stresses), time.time() - a)

    def read(case, outer):
        gap, i = tree.query(outer)
        assert gap.max() < 0.1, gap.max()
        s = stresses[CASES.index(case)]
        return np.array([s[n] for n in numbers[i]])
    P = np.array(mesh.places)
    chordnodes = np.unique([e for e in mesh.elements["CHORD"]]) - 1
    bracenodes = np.unique([e for e in mesh.elements["BRACE"]]) - 1
    for side in ("chord", "brace"):
        for spot in ("saddle", "crown"):
            axis = 0 if spot == "saddle" else 1
            if side == "chord":
                q = P[chordnodes]
                q = q[abs(q[:, axis]) < 1e-6]
                q = q[(q[:, 2] > 0) & (q[:, 1 - axis] > 0)]
                s = np.arcsin(q[:, 1] / R) * R - np.arcsin(r / R) * R if spot == "saddle" else q[:, 0] - r
                outer = q + T / 2 * np.stack([0 * s, q[:, 1], q[:, 2]], 1) / R
            else:
                q = P[bracenodes]
                q = q[(abs(q[:, axis]) < 1e-6) & (q[:, 1 - axis] > 0)]
                s = q[:, 2] - (np.sqrt(R * R - r * r) if spot == "saddle" else R)
                outer = q + t / 2 * np.stack([q[:, 0], q[:, 1], 0 * s], 1) / r
            keep = np.argsort(s)
            keep = keep[s[keep] > -1e-6]
            s, outer = s[keep], outer[keep]
            for case in (("axial", "in_plane") if spot == "crown" else ("axial", "out_of_plane")):
                S = read(case, outer)
                if side == "brace":
                    normal = S[:, 2]
                elif spot == "crown":
                    normal = S[:, 0]
                else:
                    n = outer / np.linalg.norm(outer, axis=1)[:, None]
                    ty, tz = n[:, 2], -n[:, 1]
                    normal = S[:, 1] * ty ** 2 + S[:, 2] * tz ** 2 + 2 * S[:, 4] * ty * tz
                wall = T if side == "chord" else t
                b = {"brace": 0.65 * np.sqrt(d / 2 * t), "chordsaddle": 0.09 * D / 2, "chordcrown": 0.4 * (D / 2 * T * d / 2 * t) ** 0.25}[side if side == "brace" else side + spot]
                aa = 0.4 * wall
                v = np.interp([aa, b], s, normal)
                hot = v[0] + (v[0] - v[1]) * aa / (b - aa)
                aa2 = aa + (t / 2 if side == "chord" else T / 2); b2 = b + (t / 2 if side == "chord" else T / 2)
                v2 = np.interp([aa2, b2], s, normal)
                hot2 = v2[0] + (v2[0] - v2[1]) * aa / (b - aa)
                print(side, spot, case, "hot %.3f  at outer wall %.3f" % (hot, hot2), "at node0 %.3f" % normal[0], "mid-length %.3f" % np.interp(600, s, normal))
                print("   ", np.round(np.stack([s, normal], 1)[:14], 2).tolist())
