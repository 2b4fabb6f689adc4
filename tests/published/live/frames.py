# SPDX-License-Identifier: GPL-3.0-or-later
"""Six frames of round tubes beside CalculiX (general finite elements): B32R beams, SECTION=PIPE; displacements and frequencies.

CalculiX turns such beams into solids with rigid knots where members meet: it converges from the stiff side (the twisted tower is 2.6 %
too stiff with ten elements to a member, 1.0 % with forty, 0.8 % with sixty). The members are slender on purpose: its pipe section
shears about as a solid one would, without the shear coefficient of a thin tube.
"""
import json
import pathlib
import subprocess
import sys
import tempfile

import numpy as np

from outside import apart, check

program = sys.argv[1]
TUBES = {"leg": (40.0, 2.0), "tie": (30.0, 1.5), "brace": (20.0, 1.0)}
BEAMS = "CalculiX, beams B32R, {} to a member"
KNOTS = "rigid knots there, which shrink with the elements"
MODES = 6
PARTS = 4  # ours, to a member: statics need one, modes more


def tower():
    corners = [(0, 0), (1500, 0), (1500, 1000), (0, 1000)]
    nodes = {f"{level}{c}": (x * (1 - 0.1 * level), y + 30 * level, 1250.0 * level)
             for level in range(3) for c, (x, y) in zip("abcd", corners)}
    members = []
    for level in (0, 1):
        for c, d in zip("abcd", "bcda"):
            members += [("leg", f"{level}{c}", f"{level + 1}{c}"), ("tie", f"{level + 1}{c}", f"{level + 1}{d}")]
        members += [("brace", f"{level}{a}", f"{level + 1}{b}") for a, b in ("ab", "cd", "bc")]
    cases = {"push": {"2a": (300, 0, 0), "2c": (0, -200, 0)}, "twist": {"2a": (0, 400, 0), "2c": (0, -400, 0), "2b": (0, 0, -500)}}
    return nodes, members, ["0a", "0b", "0c", "0d"], cases, 60


def portal():
    nodes = {"a": (0, 0, 0), "b": (0, 0, 1500), "c": (2000, 0, 1500), "d": (2000, 0, 0)}
    return nodes, [("leg", "a", "b"), ("tie", "b", "c"), ("leg", "c", "d")], ["a", "d"], {"sway": {"b": (200, 0, 0)}, "across": {"c": (0, 100, 0)}}, 60


def ladder():
    nodes = {f"{side}{i}": (1200.0 * i, y, 0) for i in range(5) for side, y in (("l", 0), ("r", 1200))}
    members = [("leg", f"{side}{i}", f"{side}{i + 1}") for i in range(4) for side in "lr"] + [("tie", f"l{i}", f"r{i}") for i in range(1, 5)]
    return nodes, members, ["l0", "r0"], {"sideways": {"l4": (0, 200, 0)}, "twist": {"l4": (0, 0, 100), "r4": (0, 0, -100)}}, 80


def mast():
    ring = {f"{level}{i}": (r * np.cos(a), r * np.sin(a), z) for level, r, z in ((0, 800, 0), (1, 400, 1500))
            for i, a in enumerate(np.radians([0, 120, 240]))}
    nodes = ring | {"top": (0, 0, 3000)}
    members = [("leg", f"0{i}", f"1{i}") for i in range(3)] + [("leg", f"1{i}", "top") for i in range(3)]
    members += [("tie", f"1{i}", f"1{(i + 1) % 3}") for i in range(3)]
    return nodes, members, ["00", "01", "02"], {"head": {"top": (300, 100, 0)}, "ring": {"10": (0, 300, 0)}}, 60


def grillage():
    nodes = {f"{i}{j}": (1500.0 * i, 1300.0 * j, 0) for i in range(4) for j in range(3)}
    members = [("leg", f"{i}{j}", f"{i + 1}{j}") for i in range(3) for j in range(3)] + [("tie", f"{i}{j}", f"{i}{j + 1}") for i in range(4) for j in range(2)]
    return nodes, members, ["00", "30", "02", "32"], {"middle": {"11": (0, 0, -300)}, "edge": {"31": (0, 0, -200)}}, 80


def bow():
    nodes = {f"{i}": (1500 * np.sin(a), 1500 * (1 - np.cos(a)), 0) for i, a in enumerate(np.linspace(0, np.pi / 2, 7))}
    members = [("leg", f"{i}", f"{i + 1}") for i in range(6)]
    return nodes, members, ["0"], {"in-plane": {"6": (0, -100, 0)}, "across": {"6": (0, 0, -100)}}, 20


def design(path, nodes, members, feet, cases):
    out = ['format = "seamwright.design/1"', 'name = "Frame"']
    for tube, (d, t) in TUBES.items():
        out += ["[[tube]]", f'id = "{tube}"', 'steel = "25CrMo4+N"', f"diameter_mm = {d}", f"wall_mm = {t}"]
    at = {n: np.array(p, float) for n, p in nodes.items()}
    rows = []
    for i, (tube, a, b) in enumerate(members):
        inner = [f"m{i}-{k}" for k in range(1, PARTS)]
        at |= {n: at[a] + (at[b] - at[a]) * (k + 1) / PARTS for k, n in enumerate(inner)}
        rows += ["[[member]]", f'id = "m{i}"', f'tube = "{tube}"', f"nodes = {json.dumps([a, *inner, b])}"]
    for n, p in at.items():
        out += ["[[node]]", f'id = "{n}"', f"position_mm = {[float(x) for x in p]}"]
    out += rows
    for n in feet:
        out += ["[[support]]", f'node = "{n}"', 'fixed = ["ux", "uy", "uz", "rx", "ry", "rz"]']
    for name, loads in cases.items():
        out += ["[[case]]", f'id = "{name}"']
        for n, f in loads.items():
            out += ["[[case.load]]", f'node = "{n}"', f"force_n = {list(f)}"]
    path.write_text("\n".join(out) + "\n")


def deck(path, nodes, members, feet, cases, divisions):
    number = {n: i + 1 for i, n in enumerate(nodes)}
    place, sets, count = {number[n]: np.array(p, float) for n, p in nodes.items()}, {}, 0
    for tube, a, b in members:
        p, q = np.array(nodes[a], float), np.array(nodes[b], float)
        x = (q - p) / np.linalg.norm(q - p)
        normal = np.cross(x, [0, 0, 1.0]) if abs(x[2]) < 0.9 else np.cross(x, [0, 1.0, 0])
        normal = tuple(np.round(normal / np.linalg.norm(normal), 6) + 0.0)
        chain = [number[a]]
        for k in range(1, 2 * divisions):
            place[len(place) + 1] = p + (q - p) * k / (2 * divisions)
            chain.append(len(place))
        chain.append(number[b])
        for k in range(0, 2 * divisions, 2):
            count += 1
            sets.setdefault((tube, normal), []).append((count, *chain[k:k + 3]))
    out = ["*NODE, NSET=ALL"] + [f"{i}, {p[0]:.6f}, {p[1]:.6f}, {p[2]:.6f}" for i, p in place.items()]
    out += ["*NSET, NSET=DESIGN"] + [f"{i}," for i in number.values()]
    out += ["*MATERIAL, NAME=STEEL", "*ELASTIC", "210000., .3", "*DENSITY", "7.85e-9"]
    for i, ((tube, normal), rows) in enumerate(sets.items()):
        out += [f"*ELEMENT, TYPE=B32R, ELSET=E{i}"] + [", ".join(map(str, row)) for row in rows]
        d, t = TUBES[tube]
        out += [f"*BEAM SECTION, ELSET=E{i}, MATERIAL=STEEL, SECTION=PIPE", f"{d / 2}, {t}", ", ".join(map(str, normal))]
    out += ["*BOUNDARY"] + [f"{number[n]}, 1, 6" for n in feet]
    for loads in cases.values():
        out += ["*STEP", "*STATIC", "*CLOAD, OP=NEW"]
        out += [f"{number[n]}, {k + 1}, {v}" for n, f in loads.items() for k, v in enumerate(f) if v]
        out += ["*NODE PRINT, NSET=DESIGN", "U", "*END STEP"]
    path.write_text("\n".join([*out, "*STEP", "*FREQUENCY", f"{MODES}", "*END STEP"]) + "\n")
    return number


def answers(path, number):
    done = subprocess.run(["ccx", path.stem], cwd=path.parent, capture_output=True, text=True)
    assert done.returncode == 0 and "*ERROR" not in done.stdout, done.stdout[-2000:]
    results, frequencies, current = [], [], None
    for line in path.with_suffix(".dat").read_text().splitlines():
        words = line.split()
        if "displacements" in line:
            current = {}
            results.append(current)
        elif "E I G E N V A L U E" in line:
            current = frequencies
        elif "P A R T I C I P A T I O N" in line:
            break
        elif current is frequencies and len(words) == 5 and words[0].isdigit():
            frequencies.append(float(words[3]))
        elif words and isinstance(current, dict):
            current[int(words[0])] = np.array([float(x) for x in words[1:4]])
    return [{n: r[i] for n, i in number.items()} for r in results], frequencies


def ours(*arguments):
    return json.loads(subprocess.run([program, *arguments, "--json"], check=True, capture_output=True, text=True).stdout)


with tempfile.TemporaryDirectory() as folder:
    for frame in (tower, portal, ladder, mast, grillage, bow):
        nodes, members, feet, cases, divisions = frame()
        toml, inp = pathlib.Path(folder) / f"{frame.__name__}.toml", pathlib.Path(folder) / f"{frame.__name__}.inp"
        design(toml, nodes, members, feet, cases)
        displacements, frequencies = answers(inp, deck(inp, nodes, members, feet, cases, divisions))
        for (case, loads), theirs in zip(cases.items(), displacements, strict=True):
            solution = ours("solve", str(toml), "--case", case)
            assert solution["residual"] < 1e-9
            largest = max(np.linalg.norm(u) for u in theirs.values())
            worst = max(np.linalg.norm(np.array(solution["nodes"][n][:3]) - theirs[n]) for n in nodes) / largest
            apart(f"{frame.__name__} of {len(members)} members, {case}: displacements over the largest, {largest:.4f} mm", worst, 0.01,
                  BEAMS.format(divisions), KNOTS)
        seen = [m["frequency_hz"] for m in ours("modes", str(toml), "--on-supports", str(1.3 * frequencies[-1]))["states"][0]["modes"]]
        for mine, theirs in zip(seen[:MODES], frequencies, strict=True):
            check(f"{frame.__name__}: natural frequency, Hz", mine, theirs, 0.01 * theirs, BEAMS.format(divisions), KNOTS)
