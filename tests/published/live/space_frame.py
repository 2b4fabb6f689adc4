# SPDX-License-Identifier: GPL-3.0-or-later
"""A space frame of round tubes beside CalculiX (general finite elements): B32R beams, SECTION=PIPE, sixty to a member.

CalculiX turns such beams into solids with rigid knots where members meet: it converges from the stiff side (a twisted tower is 2.6 %
too stiff with ten elements to a member, 1.0 % with forty, 0.8 % with sixty). The members are slender on purpose: its pipe section
shears about as a solid one would, without the shear coefficient of a thin tube.
"""
import json
import pathlib
import subprocess
import sys
import tempfile

import numpy as np

program = sys.argv[1]
DIVISIONS = 60
TUBES = {"leg": (40.0, 2.0), "tie": (30.0, 1.5), "brace": (20.0, 1.0)}

corners = [(0, 0), (1500, 0), (1500, 1000), (0, 1000)]
nodes = {f"{level}{c}": np.array([x * (1 - 0.1 * level), y + 30 * level, 1250.0 * level])
         for level in range(3) for c, (x, y) in zip("abcd", corners)}
members = []
for level in (0, 1):
    for c, d in zip("abcd", "bcda"):
        members.append(("leg", f"{level}{c}", f"{level + 1}{c}"))
        members.append(("tie", f"{level + 1}{c}", f"{level + 1}{d}"))
    members += [("brace", f"{level}a", f"{level + 1}b"), ("brace", f"{level}c", f"{level + 1}d"), ("brace", f"{level}b", f"{level + 1}c")]
feet = ["0a", "0b", "0c", "0d"]
cases = {"push": {"2a": (300, 0, 0), "2c": (0, -200, 0)}, "twist": {"2a": (0, 400, 0), "2c": (0, -400, 0), "2b": (0, 0, -500)}}


def design(folder):
    out = ['format = "seamwright.design/1"', 'name = "Tower"']
    for tube, (d, t) in TUBES.items():
        out += ["[[tube]]", f'id = "{tube}"', 'steel = "25CrMo4+N"', f"diameter_mm = {d}", f"wall_mm = {t}"]
    for n, p in nodes.items():
        out += ["[[node]]", f'id = "{n}"', f"position_mm = {[float(x) for x in p]}"]
    for i, (tube, a, b) in enumerate(members):
        out += ["[[member]]", f'id = "m{i}"', f'tube = "{tube}"', f'nodes = ["{a}", "{b}"]']
    for n in feet:
        out += ["[[support]]", f'node = "{n}"', 'fixed = ["ux", "uy", "uz", "rx", "ry", "rz"]']
    for name, loads in cases.items():
        out += ["[[case]]", f'id = "{name}"']
        for n, f in loads.items():
            out += ["[[case.load]]", f'node = "{n}"', f"force_n = {list(f)}"]
    path = pathlib.Path(folder) / "tower.toml"
    path.write_text("\n".join(out) + "\n")
    return path


def calculix(folder):
    number = {n: i + 1 for i, n in enumerate(nodes)}
    place, elements = {number[n]: p for n, p in nodes.items()}, {t: [] for t in TUBES}
    count = 0
    for tube, a, b in members:
        chain = [number[a]]
        for k in range(1, 2 * DIVISIONS):
            place[len(place) + 1] = nodes[a] + (nodes[b] - nodes[a]) * k / (2 * DIVISIONS)
            chain.append(len(place))
        chain.append(number[b])
        for k in range(0, 2 * DIVISIONS, 2):
            count += 1
            x = (nodes[b] - nodes[a]) / np.linalg.norm(nodes[b] - nodes[a])
            elements[tube].append((count, chain[k:k + 3], x))
    deck = ["*NODE, NSET=ALL"] + [f"{i}, {p[0]:.6f}, {p[1]:.6f}, {p[2]:.6f}" for i, p in place.items()]
    deck += ["*MATERIAL, NAME=STEEL", "*ELASTIC", "210000., .3"]
    sets = {}
    for tube, rows in elements.items():
        for e, three, x in rows:
            normal = np.cross(x, [0, 0, 1.0]) if abs(x[2]) < 0.9 else np.cross(x, [0, 1.0, 0])
            normal = tuple(np.round(normal / np.linalg.norm(normal), 6) + 0.0)
            sets.setdefault((tube, normal), []).append((e, three))
    for i, ((tube, normal), rows) in enumerate(sets.items()):
        deck += [f"*ELEMENT, TYPE=B32R, ELSET=E{i}"] + [f"{e}, {t[0]}, {t[1]}, {t[2]}" for e, t in rows]
        d, t = TUBES[tube]
        deck += [f"*BEAM SECTION, ELSET=E{i}, MATERIAL=STEEL, SECTION=PIPE", f"{d / 2}, {t}", ", ".join(map(str, normal))]
    deck += ["*BOUNDARY"] + [f"{number[n]}, 1, 6" for n in feet]
    for loads in cases.values():
        deck += ["*STEP", "*STATIC", "*CLOAD, OP=NEW"]
        deck += [f"{number[n]}, {k + 1}, {v}" for n, f in loads.items() for k, v in enumerate(f) if v]
        deck += ["*NODE PRINT, NSET=ALL", "U", "*END STEP"]
    (pathlib.Path(folder) / "tower.inp").write_text("\n".join(deck) + "\n")
    done = subprocess.run(["ccx", "tower"], cwd=folder, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout[-2000:]
    results, current = [], None
    for line in (pathlib.Path(folder) / "tower.dat").read_text().splitlines():
        if "displacements" in line:
            current = {}
            results.append(current)
        elif line.strip() and current is not None:
            v = line.split()
            current[int(v[0])] = np.array([float(x) for x in v[1:4]])
    return [{n: r[number[n]] for n in nodes} for r in results]


with tempfile.TemporaryDirectory() as folder:
    path = design(folder)
    for (name, loads), theirs in zip(cases.items(), calculix(folder), strict=True):
        ours = json.loads(subprocess.run([program, "solve", str(path), "--case", name, "--json"], check=True, capture_output=True, text=True).stdout)
        largest = max(np.linalg.norm(u) for u in theirs.values())
        worst = max(np.linalg.norm(np.array(ours["nodes"][n][:3]) - theirs[n]) for n in nodes) / largest
        print(f"{name}: {len(members)} members, largest displacement {largest:.4f} mm, largest difference {worst:.2%} of it (limit 1 %)")
        assert ours["residual"] < 1e-9
        assert worst < 0.01, name
