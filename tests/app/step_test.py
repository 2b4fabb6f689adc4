# SPDX-License-Identifier: GPL-3.0-or-later
"""An exported frame read back by another program: gmsh (Debian) reads the STEP file and adds up the volumes of its bodies, which must be those
that `shape --json` tells; every member and weld is named in the file; a fused export has fewer bodies of the
same volume."""
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile

program, root = sys.argv[1], pathlib.Path(sys.argv[2])
JOB = """format = "seamwright.design/1"
name = "Tee and dropout"
[[tube]]
id = "chord"
steel = "25CrMo4+N"
diameter_mm = 40
wall_mm = 2
[[tube]]
id = "brace"
steel = "25CrMo4+N"
diameter_mm = 25
wall_mm = 2
"""
for name, x, y, z in (("A", -150, 0, 0), ("B", 0, 0, 0), ("C", 150, 0, 0), ("D", 60, 0, 160), ("E", 60, 120, 160)):
    JOB += f'[[node]]\nid = "{name}"\nposition_mm = [{x}, {y}, {z}]\n'
JOB += """[[member]]
id = "rail"
tube = "chord"
nodes = ["A", "B", "C"]
[[member]]
id = "strut"
tube = "brace"
nodes = ["B", "D", "E"]
end_overhang_mm = -20
[[joint]]
id = "J1"
node = "B"
kind = "tube-tee"
chord = "rail"
[[weld]]
id = "W1"
joint = "J1"
member = "strut"
throat_mm = 2
[[joint]]
id = "J2"
node = "E"
kind = "tube-plate"
[[weld]]
id = "W2"
joint = "J2"
member = "strut"
throat_mm = 2
plate_mm = 5
line_mm = 25
plate_normal = [0, 0, 1]
[[plate]]
id = "tongue"
steel = "E355+N"
thickness_mm = 5
at_mm = [60, 136, 160]
along = [0, -1, 0]
across = [1, 0, 0]
shape = "tongue"
length_mm = 58
width_mm = 40
hole = [{ x_mm = 10, y_mm = 0, diameter_mm = 10 }]
welds = ["W2"]
[[sleeve]]
id = "ring"
member = "rail"
kind = "split"
at_mm = 250
length_mm = 30
wall_mm = 2
gap_mm = 5
"""


def run(*arguments, fine=(0,)):
    done = subprocess.run([program, *map(str, arguments)], capture_output=True, text=True)
    assert done.returncode in fine, (arguments, done.returncode, done.stdout[-2000:], done.stderr)
    return done.stdout


def volumes(step, folder):
    """Volumes of all bodies, mm3, as gmsh finds them; a STEP file is in metres or millimetres by its own words."""
    script = pathlib.Path(folder) / "read.geo"
    script.write_text('SetFactory("OpenCASCADE");\nGeometry.OCCTargetUnit = "MM";\n'
                      f'v() = ShapeFromFile("{step}");\nall() = Volume{{:}};\n'
                      'For i In {0 : #all() - 1}\n  m = Mass Volume{all(i)};\n  Printf("volume %.9g", m);\nEndFor\n', encoding="utf-8")
    said = subprocess.run(["gmsh", "-0", str(script), "-o", f"{folder}/read.brep"], capture_output=True, text=True)
    found = [float(v) for v in re.findall(r"volume ([\d.e+]+)", said.stdout)]
    assert found, said.stdout[-2000:] + said.stderr
    return found


with tempfile.TemporaryDirectory() as folder:
    os.environ["XDG_CACHE_HOME"] = folder
    job = pathlib.Path(folder) / "design.toml"
    job.write_text(JOB, encoding="utf-8")
    told = json.loads(run("shape", job, "--json", fine=(0, 1)))
    assert all(p["built"] == "exact" for p in told["parts"] + told["welds"]), told
    expected = sum(b["volume_mm3"] for b in told["parts"] + told["welds"])
    step = pathlib.Path(folder) / "frame.step"
    run("export", job, "--out", step)
    text = step.read_text(encoding="utf-8")
    for name in ("rail", "strut", "tongue", "ring", "W1", "W2", "Tee and dropout"):
        assert f"'{name}'" in text, name
    assert "COLOUR_RGB" in text and "AUTOMOTIVE_DESIGN" in text
    read = volumes(step, folder)
    # Four lines of W2 are four bodies; rail, strut, tongue, ring and W1 one each.
    assert len(read) == 9, read
    # The other program integrates with fixed points, which is some percent off on the ruled fillet; all else is equal.
    for part in told["parts"]:
        assert min(abs(v / part["volume_mm3"] - 1) for v in read) < 1e-5, (part, read)
    assert abs(sum(read) / expected - 1) < 3e-4, (sum(read), expected)
    run("export", job, "--out", step, "--fused")
    fused = volumes(step, folder)
    # Rail, strut, tongue and ring have become one or, where they stand apart, fewer; the welds' five bodies stay.
    assert 6 <= len(fused) < len(read) and abs(1 - sum(fused) / expected) < 3e-4, (fused, expected)
    refused = subprocess.run([program, "export", str(job), "--out", f"{folder}/frame.iges"], capture_output=True, text=True)
    assert refused.returncode == 2, refused
    os.environ["SEAMWRIGHT_WORKER"] = f"{folder}/nobody"
    os.environ["XDG_CACHE_HOME"] = f"{folder}/empty"
    alone = subprocess.run([program, "shape", str(job)], capture_output=True, text=True)
    assert alone.returncode == 4 and "nobody" in alone.stderr, alone
print(f"{len(read)} bodies read back, {sum(read):.1f} of {expected:.1f} mm3; fused {sum(fused):.1f} mm3")
