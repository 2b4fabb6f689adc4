# SPDX-License-Identifier: GPL-3.0-or-later
"""The demonstration frame worked out a second time, by other means, beside what the program says.

Independent of the engine: read with tomllib; element stiffness from the flexibility of a Timoshenko cantilever (Cowper's shear
coefficient of tubes), not from closed forms of stiffness; hinge by the null space of its constraints; loads on several nodes by
the least forces that balance them; masses lumped on finely divided members. numpy and scipy do the algebra.
"""
import json
import pathlib
import subprocess
import sys
import tomllib

import numpy as np
import scipy.linalg
import scipy.special

from outside import apart, check

program, root = sys.argv[1], pathlib.Path(sys.argv[2])
job = root / "catalog/examples/orchard-trike"
G = 9.80665
ITS_OWN = "a second frame program of numpy and scipy, in this script: Timoshenko beams by flexibility, Cowper's shear"


def other(text):
    return {"FL": "FR", "FR": "FL"}.get(text, text[:-1] + ("R" if text.endswith(".L") else "L") if text[-2:] in (".L", ".R") else text)


def load():
    design = tomllib.loads((job / "design.toml").read_text())
    values = {}
    number = lambda x: float(eval(x, {}, values)) if isinstance(x, str) else float(x)
    for key, value in design["parameters"].items():
        values[key] = number(value)

    def rows(kind):
        for row in design.get(kind, []):
            yield row
            if row.get("mirror"):
                twin = {}
                for key, value in row.items():
                    if key in ("position_mm", "up"):
                        value = [value[0], f"-({value[1]})", value[2]]
                    elif key in ("id", "node", "joint", "member", "chord"):
                        value = other(value)
                    elif key == "nodes":
                        value = [other(n) for n in value]
                    twin[key] = value
                yield twin
    vector = lambda v: np.array([number(x) for x in v])
    return design, rows, number, vector


design, rows, number, vector = load()
nodes = {r["id"]: vector(r["position_mm"]) for r in rows("node")}
index = {n: i for i, n in enumerate(nodes)}
tubes = {r["id"]: (number(r["diameter_mm"]), number(r.get("wall_mm", 0)) or number(r["diameter_mm"]) / 2) for r in rows("tube")}
members = {r["id"]: r for r in rows("member")}
E, NU, RHO = 210000.0, 0.3, 7.85e-9  # EN 1993-1-1 3.2.6, EN 1991-1-1: MPa, -, t/mm3

# A brace starts where it meets the chord's surface.
cuts = {m: [0.0, 0.0] for m in members}
joints = {r["id"]: r for r in rows("joint")}
for w in rows("weld"):
    j = joints[w["joint"]]
    if "chord" not in j or "member" not in w:
        continue
    m = members[w["member"]]
    at_start = m["nodes"][0] == j["node"] if "end" not in w else w["end"] == "start"
    chain, chord = m["nodes"], members[j["chord"]]["nodes"]
    inner = chain[1] if at_start else chain[-2]
    brace = nodes[inner] - nodes[j["node"]]
    k = chord.index(j["node"])
    units = [(b - a) / np.linalg.norm(b - a) for a, b in
             [(nodes[p], nodes[q]) for p, q in zip(chord, chord[1:])][max(k - 1, 0):k + 1]]
    along = sum(units) / np.linalg.norm(sum(units))
    sine = np.linalg.norm(np.cross(along, brace / np.linalg.norm(brace)))
    cuts[w["member"]][0 if at_start else 1] = tubes[members[j["chord"]]["tube"]][0] / 2 / sine


def section(tube):
    d, t = tubes[tube]
    q = (d - 2 * t) / d  # inner over outer
    a, i = np.pi / 4 * d**2 * (1 - q**2), np.pi / 64 * d**4 * (1 - q**4)
    shear = 6 * (1 + NU) * (1 + q**2)**2 / ((7 + 6 * NU) * (1 + q**2)**2 + (20 + 12 * NU) * q**2)  # Cowper 1966
    return a, i, 2 * i, a * shear


def stiffness(tube, length, link):
    a, i, j, s = section(tube)
    g = E / 2 / (1 + NU)
    if link:
        k = np.zeros((6, 6))
        k[0, 0] = E * a / length
    else:  # flexibility of the far end, u v w rx ry rz, near end clamped
        f = np.diag([length / E / a, length**3 / 3 / E / i + length / g / s, length**3 / 3 / E / i + length / g / s,
                     length / g / j, length / E / i, length / E / i])
        f[1, 5] = f[5, 1] = length**2 / 2 / E / i
        f[2, 4] = f[4, 2] = -length**2 / 2 / E / i
        k = np.linalg.inv(f)
    h = np.eye(6)  # far end's rigid motion from the near end's
    h[1, 5], h[2, 4] = length, -length
    b = np.hstack([-h, np.eye(6)])
    return b.T @ k @ b


def cross(v):
    return np.array([[0, -v[2], v[1]], [v[2], 0, -v[0]], [-v[1], v[0], 0]])


def elements(parts):
    """(id, tube, near node, far node, axes, near arm, far arm, length, link); parts per span, the new nodes appended."""
    place = list(nodes.values())
    for m, row in members.items():
        chain = row["nodes"]
        for s, (p, q) in enumerate(zip(chain, chain[1:])):
            x = nodes[q] - nodes[p]
            whole = np.linalg.norm(x)
            x = x / whole
            c0 = cuts[m][0] if s == 0 else 0
            c1 = cuts[m][1] if s == len(chain) - 2 else 0
            up = np.array([0, 0, 1.0]) if abs(x[2]) < np.cos(np.radians(1)) else np.array([1.0, 0, 0])
            y = up - x * (up @ x)
            y /= np.linalg.norm(y)
            axes = np.array([x, y, np.cross(x, y)])
            link, n = row.get("axial_only", False), 1
            n = 1 if link else parts
            length = (whole - c0 - c1) / n
            near = index[p]
            for k in range(n):
                far = index[q] if k == n - 1 else len(place)
                if k < n - 1:
                    place.append(nodes[p] + x * (c0 + (k + 1) * length))
                yield (m if len(chain) == 2 else f"{m}/{s + 1}", row["tube"], near, far, axes,
                       x * c0 if k == 0 else 0 * x, -x * c1 if k == n - 1 else 0 * x, length, link)
                near = far


def transform(axes, near_arm, far_arm):
    t = np.zeros((12, 12))
    for o, arm in ((0, near_arm), (6, far_arm)):
        t[o:o + 3, o:o + 3] = axes
        t[o:o + 3, o + 3:o + 6] = -axes @ cross(arm)
        t[o + 3:o + 6, o + 3:o + 6] = axes
    return t


def carried(centre, names):
    """Nodal displacements to the body's six motions: rigid for one node, else least squares of translations."""
    if len(names) == 1:
        r = np.eye(6)
        r[:3, 3:] = -cross(centre - nodes[names[0]])
        return r, np.arange(6) + 6 * index[names[0]]
    a = np.vstack([np.hstack([np.eye(3), -cross(nodes[n] - centre)]) for n in names])
    return np.linalg.pinv(a), np.concatenate([np.arange(3) + 6 * index[n] for n in names])


def assemble(parts, bodies):
    found = list(elements(parts))
    size = 6 * (1 + max(max(e[2], e[3]) for e in found))
    k, m, weight = np.zeros((size, size)), np.zeros((size, size)), np.zeros(size)
    for _, tube, near, far, axes, a0, a1, length, link in found:
        t = transform(axes, a0, a1)
        dofs = np.r_[6 * near:6 * near + 6, 6 * far:6 * far + 6]
        k[np.ix_(dofs, dofs)] += t.T @ stiffness(tube, length, link) @ t
        a, i, j, _ = section(tube)
        half = RHO * length / 2
        lump = np.diag([a * half] * 3 + [j * half, 0, 0] + [a * half] * 3 + [j * half, 0, 0])
        m[np.ix_(dofs, dofs)] += t.T @ lump @ t
        down = np.zeros(12)  # fixed-end forces of the uniform weight: w L / 2, w L^2 / 12
        line = axes @ [0, 0, -1e3 * G * a * RHO]
        for o, sign in ((0, 1), (6, -1)):
            down[o:o + 3] = line * length / 2
            if not link:
                down[o + 3:o + 6] = sign * length**2 / 12 * np.array([0, -line[2], line[1]])
        weight[dofs] += t.T @ down
    for mass, centre, inertia, names in bodies:
        r, dofs = carried(centre, names)
        m[np.ix_(dofs, dofs)] += r.T @ np.diag([mass / 1e3] * 3 + list(np.asarray(inertia) * 1e3)) @ r
        weight[dofs] += r.T @ [0, 0, -mass * G, 0, 0, 0]
    hinge = next(iter(rows("hinge")))
    p, q = (6 * index[n] for n in hinge["nodes"])
    held = np.zeros((5, size))
    across = scipy.linalg.null_space(vector(hinge["axis"])[None]).T
    for i in range(3):
        held[i, p + i], held[i, q + i] = 1, -1
    for i in range(2):
        held[3 + i, p + 3:p + 6], held[3 + i, q + 3:q + 6] = across[i], -across[i]
    return found, k, m, weight, held


def free_of(held):
    """Columns that span every motion the constraints allow."""
    active = np.flatnonzero(abs(held).max(axis=0))
    rest = np.setdiff1d(np.arange(held.shape[1]), active)
    small = scipy.linalg.null_space(held[:, active])
    basis = np.zeros((held.shape[1], len(rest) + small.shape[1]))
    basis[rest, np.arange(len(rest))] = 1
    basis[active, len(rest):] = small
    return basis


def solve(k, load, held):
    basis = free_of(held)
    return basis @ np.linalg.lstsq(basis.T @ k @ basis, basis.T @ load, rcond=1e-13)[0]


def compare(what, u, found, solution, tolerance):
    name_of = list(nodes)
    seen = np.array([solution["nodes"][n] for n in name_of])
    mine = u[:6 * len(nodes)].reshape(-1, 6)
    turning = [i for i, n in enumerate(name_of) if any(n in m["nodes"] and not m.get("axial_only") for m in members.values())]
    worst = max(abs(mine[:, :3] - seen[:, :3]).max() / abs(seen[:, :3]).max(),
                abs(mine[turning, 3:] - seen[turning, 3:]).max() / abs(seen[turning, 3:]).max())
    forces = []
    for name, tube, near, far, axes, a0, a1, length, link in found:
        f = stiffness(tube, length, link) @ transform(axes, a0, a1) @ u[np.r_[6 * near:6 * near + 6, 6 * far:6 * far + 6]]
        forces.append((np.r_[-f[:6], f[6:]], np.r_[solution["members"][name]["start"], solution["members"][name]["end"]]))
    a, b = (np.array([f[i] for f in forces]) for i in (0, 1))
    for part in ([0, 1, 2, 6, 7, 8], [3, 4, 5, 9, 10, 11]):
        worst = max(worst, abs(a[:, part] - b[:, part]).max() / abs(b[:, part]).max())
    apart(f"demonstration frame, {what}: displacements and section forces of {len(found)} elements", worst, tolerance, ITS_OWN, "rounding of two solvers")


def run(*arguments):
    return json.loads(subprocess.run([program, *arguments, "--json"], check=True, capture_output=True, text=True).stdout)


bodies = [(number(r["mass_kg"]), vector(r["position_mm"]), [abs(number(x)) for x in r.get("inertia_kg_m2", [0, 0, 0])], r["nodes"])
          for r in rows("mass")]

# The design's case on its supports.
found, k, _, weight, held = assemble(1, bodies)
case = design["case"][0]
force = weight * case["gravity_factor"]
for l in case["load"]:
    force[6 * index[l["node"]]:6 * index[l["node"]] + 3] += l["force_n"]
directions = ["ux", "uy", "uz", "rx", "ry", "rz"]
fixed = [6 * index[s["node"]] + directions.index(d) for s in rows("support") for d in s["fixed"]]
compare("case on supports", solve(k, force, np.vstack([held, np.eye(len(k))[fixed]])), found, run("solve", str(job), "--case", case["id"]), 1e-6)

# Standing on its tyres with rider and the heaviest payload.
duty = tomllib.loads((job / "duty.toml").read_text())
rider, carriers = duty["rider"], design["rider"]
people = [(rider["mass_kg"] * rider["saddle_share"], nodes[carriers["saddle_node"]], [0] * 3, [carriers["saddle_node"]]),
          (rider["mass_kg"] * rider["pedal_share"], nodes[carriers["pedal_node"]], [0] * 3, [carriers["pedal_node"]])]
people += [(rider["mass_kg"] * rider["bar_share"] / len(carriers["bar_nodes"]), nodes[n], [0] * 3, [n]) for n in carriers["bar_nodes"]]
payload = max(leg["payload_kg"] for leg in duty["trip"][0]["leg"])
people.append((payload, vector(design["box"]["payload_centre_mm"]), [0] * 3, design["box"]["nodes"]))
found, k, _, weight, held = assemble(1, bodies + people)
for wheel in rows("wheel"):
    contact = np.eye(6)
    contact[:3, 3:] = -cross([0, 0, -number(wheel["radius_mm"])])
    spring = np.diag([0, number(wheel["lateral_n_mm"]), number(wheel["radial_n_mm"]), 0, 0, 0])
    dofs = np.arange(6) + 6 * index[wheel["node"]]
    k[np.ix_(dofs, dofs)] += contact.T @ spring @ contact
first = next(iter(rows("wheel")))["node"]
held = np.vstack([held, np.eye(len(k))[[6 * index[first]]]])  # nothing else holds it along x
compare("standing on its tyres", solve(k, weight, held), found, run("solve", str(job), "--channel", "standing"), 1e-6)

# Natural frequencies of the free frame, members in three parts with lumped masses; shifted by 1 Hz, as it floats.
_, k, m, _, held = assemble(3, bodies)
basis = free_of(held)
k, m = basis.T @ k @ basis, basis.T @ m @ basis
shift = (2 * np.pi)**2
largest = scipy.linalg.eigh(m, k + shift * m + 1e-15 * np.trace(k) / len(k) * np.eye(len(k)), eigvals_only=True,
                            subset_by_index=[len(k) - 16, len(k) - 1])[::-1]
mine = np.sqrt(np.maximum(1 / largest - shift, 0)) / 2 / np.pi
seen = np.array([x["frequency_hz"] for x in run("modes", str(job), "--equations")["states"][2]["modes"]])
assert sum(seen == 0) == 6, "the free frame has six rigid motions"
seen = seen[seen > 0]
mine = mine[mine > 1][:len(seen)]
assert len(seen) >= 2, "modes"
for ours, theirs in zip(seen, mine):
    check("demonstration frame, free: natural frequency, Hz", ours, theirs, 5e-3 * theirs, ITS_OWN, "lumped masses there, consistent ones here")

# Random ride of every leg: members in three parts, all modes to 2,000 Hz, spectra summed line by line. Damping: tyres,
# dampers and rider in full, and the stated ratio on every mode. Road ISO 8608 with w = 2, isotropic tracks.
height = rider["height_above_saddle_mm"]
springs = [((0, 0, 1), rider.get("vertical_frequency_hz", 5), rider.get("vertical_damping", 0.475)),
           ((0, 1, 0), rider["lateral_frequency_hz"], rider["lateral_damping"]),
           ((1, 0, 0), rider["fore_aft_frequency_hz"], rider["fore_aft_damping"])]
dynamics = duty.get("dynamics", {})


def vehicle(payload):
    """Mass-normalised modes on the tyres, the damping between them, and what the ground does to each."""
    masses = [p for p in people[1:-1]] + ([(payload, people[-1][1], [0] * 3, people[-1][3])] if payload else [])
    _, k, m, _, held = assemble(3, bodies + masses)
    size = len(k)
    k, m, held = (np.pad(x, ((0, 3 if x is not held else 0), (0, 3))) for x in (k, m, held))
    c = np.zeros_like(k)
    saddle = 6 * index[carriers["saddle_node"]]
    for i, (axis, hz, ratio) in enumerate(springs):
        mass = people[0][0] / 1e3
        row = np.zeros(size + 3)
        row[size + i] = 1
        row[saddle:saddle + 3] -= axis
        row[saddle + 3:saddle + 6] -= np.cross([0, 0, height], axis)
        m[size + i, size + i] = mass
        k += mass * (2 * np.pi * hz)**2 * np.outer(row, row)
        c += 2 * ratio * mass * 2 * np.pi * hz * np.outer(row, row)
    ground = []
    for wheel in rows("wheel"):
        dofs = np.arange(6) + 6 * index[wheel["node"]]
        contact = np.zeros((3, size + 3))
        contact[:, dofs[:3]] = np.eye(3)
        contact[:, dofs[3:]] = -cross([0, 0, -number(wheel["radius_mm"])])
        radial, side = number(wheel["radial_n_mm"]), number(wheel["lateral_n_mm"])
        k += radial * np.outer(contact[2], contact[2]) + side * np.outer(contact[1], contact[1])
        c += (number(wheel["damping_n_s_m"]) * np.outer(contact[2], contact[2])
              + number(wheel["lateral_damping_n_s_m"]) * np.outer(contact[1], contact[1])) / 1e3
        ground.append((contact[2], radial, number(wheel["damping_n_s_m"]) / 1e3, nodes[wheel["node"]][:2] / 1e3,
                       number(wheel["contact_length_mm"]) / 1e3))
    for damper in rows("damper"):
        a, b = (nodes[n] for n in damper["nodes"])
        line = (b - a) / np.linalg.norm(b - a)
        row = np.zeros(size + 3)
        for n, sign in zip(damper["nodes"], (-1, 1)):
            row[6 * index[n]:6 * index[n] + 3] += sign * line
        c += number(damper["damping_n_s_m"]) / 1e3 * np.outer(row, row)
    basis = free_of(held)
    kr, mr = basis.T @ k @ basis, basis.T @ m @ basis
    # Rotations without mass condense away as modes of no interest: solve M x = mu (K + s M) x for the largest mu.
    shift = (2 * np.pi * 0.1)**2
    mu, shapes = scipy.linalg.eigh(mr, kr + shift * mr + 1e-12 * np.trace(kr) / len(kr) * np.eye(len(kr)),
                                   subset_by_index=[len(kr) - 140, len(kr) - 1])
    squares = 1 / mu - shift
    keep = (squares > (2 * np.pi * 0.05)**2) & (squares < (2 * np.pi * 2000)**2)
    shapes = shapes[:, keep] / np.sqrt(np.einsum("ij,ik,kj->j", shapes[:, keep], mr, shapes[:, keep]))
    return np.sqrt(squares[keep]), basis @ shapes, c, ground


def accelerations(leg, road_height, omega, modes, c, ground, rows_of):
    v = leg["speed_kmh"] / 3.6
    damping = modes.T @ c @ modes + np.diag(2 * dynamics.get("structural_damping", 0.01) * omega)
    hz = np.arange(max(0.05, 0.01 * v), min(60, 10 * v), 0.02)
    sums = np.zeros(len(rows_of))
    apart = np.array([[abs(a[3][1] - b[3][1]) for b in ground] for a in ground])
    for f in hz:
        w, n = 2 * np.pi * f, f / v
        x = 2 * np.pi * n * np.where(apart > 0, apart, 1)
        gamma = np.where(apart > 0, x * scipy.special.k1(x), 1)
        phase = np.array([np.exp(2j * np.pi * n * g[3][0]) * np.sinc(n * g[4]) for g in ground])
        spectrum = road_height * (n / 0.1)**-2 / v * gamma * np.outer(phase, phase.conj())
        force = np.array([modes.T @ g[0] * (g[1] + 1j * w * g[2]) for g in ground]).T * 1e3  # N per m -> per mode
        q = np.linalg.solve(np.diag(omega**2 - w**2) + 1j * w * damping, force)
        h = rows_of @ q * w**2 / 1e3  # m/s2 per m
        sums += np.einsum("ij,jk,ik->i", h, spectrum, h.conj()).real * 0.02
    return np.sqrt(sums)


heights = {"A": 16e-6, "B": 64e-6, "C": 256e-6, "D": 1024e-6}
roads = {r["id"]: heights[r["class"]] for r in duty["road"]}
box = min(design["box"]["nodes"], key=lambda n: np.linalg.norm(nodes[n] - vector(design["box"]["payload_centre_mm"])))
rated = json.loads(subprocess.run([program, "rate", str(job), "--equations", "--method", "spectral", "--json"], capture_output=True, text=True).stdout)
built = {}
for leg, seen in zip(duty["trip"][0]["leg"], rated["legs"]):
    payload = leg["payload_kg"]
    if payload not in built:
        built[payload] = vehicle(payload)
    omega, modes, c, ground = built[payload]
    rows_of = np.array([modes[6 * index[n] + 2] for n in (carriers["saddle_node"], box)])
    mine = accelerations(leg, roads[leg["road"]], omega, modes, c, ground, rows_of)
    theirs = np.array([seen["seat_acceleration_rms_m_s2"], seen["box_acceleration_rms_m_s2"]])
    for place, ours, other_one in zip(("saddle", "box"), theirs, mine):
        check(f"demonstration, leg {leg['id']}: {place}, m/s2", ours, other_one, 5e-3 * other_one, ITS_OWN, "lumped masses and steps of frequency")
