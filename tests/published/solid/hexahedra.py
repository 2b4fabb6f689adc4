# SPDX-License-Identifier: GPL-3.0-or-later
"""A joint of two round tubes as bricks of second order in CalculiX (C3D20R), on a mesh of its own: blocks mapped on the tubes' surfaces.

hexahedra.py CHORD WALL HALF_LENGTH BRACE WALL LENGTH ANGLE LEG_CROWN LEG_SADDLE DENSITY LAYERS, in mm and degrees: the chord's ends held, the
brace's end rigid, the root fused; legs of 0 stand for a joint without weld metal. LENGTH counts from the axes' meeting. Half of the
joint is meshed, its other half follows from symmetry. Loads make 1 MPa of nominal stress in the brace: axial, in_plane, out_of_plane,
with the crown and the side at 90 degrees in tension. It prints, one to a line:

- work LOAD VALUE: force times motion of the brace's end, N mm;
- surface SIDE LOAD PLACE VALUE: stress square to the weld drawn on to the toe from two points of the surface (DNV-RP-C203 [from memory]),
  at PLACE times 22.5 degrees around the brace from the crown;
- wall SIDE LOAD PLACE VALUE: membrane and bending stress in the wall beneath the toe, force and moment over the section's width at the
  middle of the wall, from the stress at the Gauss points of the elements next to it, drawn on to the toe;
- unknowns VALUE and volume VALUE of the half.
"""
import pathlib
import subprocess
import sys
import tempfile

import numpy as np
from hexahedra_mesh import Joint, Mesh
from scipy.interpolate import CloughTocher2DInterpolator, CubicSpline

YOUNGS, POISSON = 206000, 0.3
LOADS = ("axial", "in_plane", "out_of_plane")
PLACES = range(9)
GAUSS = np.array([0.5 - 0.5 / np.sqrt(3), 0.5 + 0.5 / np.sqrt(3)])  # of two points over an element from 0 to 1


class Half:
    """The half joint under three motions of the brace's end that are symmetric to its plane, or three that are not."""

    def __init__(self, mesh, symmetric, folder):
        self.mesh, self.sign = mesh, 1 if symmetric else -1
        j, p = mesh.joint, mesh.places
        self.top = np.flatnonzero(abs((p - j.end) @ j.axis) < 1e-6)
        self.held = np.flatnonzero(abs(abs(p[:, 0]) - j.half_length) < 1e-6)
        # Translations and turns about the end's middle; forces and moments are taken along the same.
        self.shifts, self.turns = ((j.axis, j.crown), (j.side,)) if symmetric else ((j.side,), (j.crown, j.axis))
        self.write(folder / "half.inp")
        done = subprocess.run(["ccx", "half"], cwd=folder, capture_output=True, text=True)
        assert done.returncode == 0 and "*ERROR" not in done.stdout, done.stdout[-2000:]
        self.read(folder)

    def write(self, path):
        m, plane = self.mesh, np.flatnonzero(abs(self.mesh.places[:, 1]) < 1e-6)
        plane = np.setdiff1d(plane, np.concatenate([self.top, self.held]))
        deck = ["*NODE"] + [f"{i + 1}, {x:.10g}, {y:.10g}, {z:.10g}" for i, (x, y, z) in enumerate(m.places + 0.0)]
        deck += ["*ELEMENT, TYPE=C3D20R, ELSET=EALL"]
        for i, e in enumerate(m.elements):
            numbers = [str(n + 1) for n in e]
            deck += [f"{i + 1}, " + ", ".join(numbers[:15]) + ",", ", ".join(numbers[15:])]
        for name, members in (("TOP", self.top), ("HELD", self.held), ("PLANE", plane), ("SURFACE", m.surface_nodes())):
            deck += [f"*NSET, NSET={name}"] + [f"{n + 1}," for n in members]
        deck += ["*ELSET, ELSET=TOES"] + [f"{e + 1}," for e in m.toe_elements()]
        deck += ["*MATERIAL, NAME=STEEL", "*ELASTIC", f"{YOUNGS}, {POISSON}", "*SOLID SECTION, ELSET=EALL, MATERIAL=STEEL"]
        deck += ["*BOUNDARY", "HELD, 1, 3"] + [f"PLANE, {d}, {d}" for d in ((2,) if self.sign > 0 else (1, 3))]
        arm = m.places[self.top] - m.joint.end
        moved = [np.tile(a, (len(arm), 1)) for a in self.shifts] + [np.cross(a, arm) for a in self.turns]
        for u in moved:
            deck += ["*STEP", "*STATIC", "*BOUNDARY"]
            deck += [f"{n + 1}, {d + 1}, {d + 1}, {u[i, d]:.12g}" for i, n in enumerate(self.top) for d in range(3)]
            deck += ["*NODE PRINT, NSET=TOP", "RF", "*EL PRINT, ELSET=TOES", "S", "*NODE FILE, NSET=SURFACE", "U", "*EL FILE, NSET=SURFACE", "S", "*END STEP"]
        path.write_text("\n".join(deck) + "\n")

    def read(self, folder):
        forces, points, rows = [], [], None
        for line in (folder / "half.dat").read_text().splitlines():
            if "forces" in line or "stresses" in line:
                rows = []
                (forces if "forces" in line else points).append(rows)
            elif line.strip() and rows is not None:
                rows.append(line.split())
        # Theirs: xx yy zz xy xz yz.
        self.points = [{(int(r[0]) - 1, int(r[1]) - 1): tensor(np.array(r[2:8], float)) for r in step} for step in points]
        self.stiffness = np.empty((3, 3))
        for c, step in enumerate(forces):
            number = np.array([int(r[0]) - 1 for r in step])
            f = np.array([r[1:4] for r in step], float)
            total, moment = f.sum(axis=0), np.cross(self.mesh.places[number] - self.mesh.joint.end, f).sum(axis=0)
            self.stiffness[:, c] = 2 * np.array([total @ a for a in self.shifts] + [moment @ a for a in self.turns])
        assert abs(self.stiffness - self.stiffness.T).max() < 1e-4 * abs(self.stiffness).max()
        blocks = []
        for line in (folder / "half.frd").read_text().splitlines():
            if line.startswith(" -4"):
                blocks.append({} if "STRESS" in line else None)
            elif line.startswith(" -1") and blocks and blocks[-1] is not None:
                blocks[-1][int(line[3:13]) - 1] = [float(line[k:k + 12]) for k in range(13, 85, 12)]
        # There: xx yy zz xy yz zx.
        self.surface = [{n: tensor(np.array(s)[[0, 1, 2, 3, 5, 4]]) for n, s in b.items()} for b in blocks if b is not None]

    def under(self, force, moment):
        """The shares of the three motions that make these at the whole joint's end, and their work."""
        f = np.array([force @ a for a in self.shifts] + [moment @ a for a in self.turns])
        q = np.linalg.solve(self.stiffness, f)
        return q, f @ q


def tensor(s):
    return np.array([[s[0], s[3], s[4]], [s[3], s[1], s[5]], [s[4], s[5], s[2]]])


def surface_stress(half, shares, side):
    """Tensors on a tube's outer surface beyond its toe, as a function of the place; the other half is its mirror image."""
    nodes = half.mesh.surface[side]
    t = sum(q * np.array([step[n] for n in nodes]) for q, step in zip(shares, half.surface, strict=True))
    mirror = np.diag([1.0, -1, 1])
    flat = half.mesh.joint.flat(side, half.mesh.places[nodes])
    off = abs(flat[:, 1]) > 1e-6
    both = np.concatenate([t, half.sign * mirror @ t[off] @ mirror])
    return CloughTocher2DInterpolator(np.concatenate([flat, flat[off] * [1, -1]]), both.reshape(-1, 9))


def drawn_on(half, shares, side, place):
    j = half.mesh.joint
    stress, angle = surface_stress(half, shares, side), np.radians(22.5 * place)
    near, far = j.readouts(side, abs(np.cos(angle)) > np.sqrt(0.5) - 1e-9)
    found = []
    for distance in (near, far):
        at, away = j.step(side, angle, distance)
        found.append(away @ stress(j.flat(side, at[None]))[0].reshape(3, 3) @ away)
    return found[0] + (found[0] - found[1]) * near / (far - near)


def wall_stress(half, shares, side):
    """Membrane and bending beneath the toe, a spline over the angle around the brace."""
    m, j = half.mesh, half.mesh.joint
    angles, values = [], []
    for column in m.toe_columns[side]:  # elements through the wall from its outer surface inwards, next to the toe
        n = len(column)
        for around in range(2):
            angle = m.angle_of(column[0], GAUSS[around])
            away = j.away(side, angle)
            ways = np.zeros(2)
            for layer, (element, point) in enumerate((e, p) for e in column for p in range(2)):
                depth = (layer // 2 + GAUSS[point]) / n
                for outwards in range(2):
                    s = sum(q * step[element, m.gauss_number(side, around, point, outwards)] for q, step in zip(shares, half.points, strict=True))
                    ways[outwards] += away @ s @ j.area_at(side, away, depth) * (1 + 6 * (0.5 - depth)) / (2 * n)
            angles.append(angle)
            values.append(ways[0] + (ways[0] - ways[1]) * GAUSS[0] / (GAUSS[1] - GAUSS[0]))
    order = np.argsort(angles)
    a, v = np.array(angles)[order], np.array(values)[order]
    mirrored = half.sign * v[::-1]
    return CubicSpline(np.concatenate([-a[::-1], a, 2 * np.pi - a[::-1]]), np.concatenate([mirrored, v, mirrored]))


def averaged(around, angle, element):
    """Over a hat of 7.5 degrees or two elements as long as the thinner wall, as our sections are taken (docs/methods/joints.md)."""
    off = np.linspace(-1, 1, 41)
    weight = 1 - abs(off)
    return weight @ around(angle + max(np.radians(7.5), 2 * element) * off) / weight.sum()


def main():
    sizes = [float(x) for x in sys.argv[1:]]
    joint = Joint(*sizes[:9])
    mesh = Mesh(joint, int(sizes[9]), int(sizes[10]))
    print("unknowns", 3 * len(mesh.places))
    print("volume", mesh.volume())
    halves = {}
    for symmetric in (True, False):
        with tempfile.TemporaryDirectory() as folder:
            halves[symmetric] = Half(mesh, symmetric, pathlib.Path(folder))
    none = np.zeros(3)
    for load in LOADS:
        half = halves[load != "out_of_plane"]
        force, moment = {"axial": (joint.area * joint.axis, none), "in_plane": (none, -joint.modulus * joint.side),
                         "out_of_plane": (none, joint.modulus * joint.crown)}[load]
        shares, work = half.under(force, moment)
        print("work", load, work)
        for side in ("chord", "brace"):
            wall = wall_stress(half, shares, side)
            for place in PLACES:
                print("surface", side, load, place, drawn_on(half, shares, side, place))
                print("wall", side, load, place, averaged(wall, np.radians(22.5 * place), min(joint.t, joint.T) / joint.r))


main()
