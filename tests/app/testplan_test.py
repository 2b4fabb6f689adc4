# SPDX-License-Identifier: GPL-3.0-or-later
"""testplan from the command line: terminal, sheets and JSON in both languages; its results become a detail of the job, and the job takes it
up; what cannot be planned is refused: testplan_test.py PROGRAM ROOT."""
import json
import pathlib
import shlex
import shutil
import subprocess
import sys
import tempfile

program, root = str(pathlib.Path(sys.argv[1]).resolve()), pathlib.Path(sys.argv[2]).resolve()
folder = pathlib.Path(tempfile.mkdtemp(prefix="seamwright-testplan-"))
shutil.copytree(root / "catalog/examples/orchard-trike", folder / "trike")


def run(arguments, code=0):
    done = subprocess.run([program, *arguments], cwd=folder, capture_output=True, text=True, timeout=120)
    assert done.returncode == code, (arguments, done.returncode, done.stderr[-500:])
    return done


plan = ["testplan", "trike", "--method", "spectral"]
told = run([*plan, "--out", "plan.pdf"]).stdout
assert "Weld W32.L" in told and "Stop criterion" in told and "seamwright fit tests.csv" in told
assert (folder / "plan.pdf").read_bytes().startswith(b"%PDF-")
document = json.loads(run(["--language", "de", *plan, "--out", "plan.html", "--json"]).stdout)
german = (folder / "plan.html").read_text(encoding="utf-8")
assert "Prüfstück" in german and "Abbruchkriterium" in german and "<svg" in german
assert document["format"] == "seamwright.testplan/1" and len(document["tests"]) == 3 and document["rig"] and document["ride"]
for test in document["tests"]:
    force, place = test["force"], test["place"]
    assert test["pieces"] == 6 and abs(force["range_n"] * abs(place["mpa_per_n"]) / test["range_mpa"] - 1) < 1e-9
    assert test["one_80"][0] < test["mean_80"][0] < place["cycles"] < test["mean_80"][1] < test["one_80"][1] < test["run_out"]
    assert all(a["life_km"] < b["life_km"] for a, b in zip(test["outcomes"], test["outcomes"][1:]))

# Pieces that live twice as long as predicted: the command that the plan names makes their curve, and the job rates with it.
test = document["tests"][0]
rows = ["specimen,stress_range_mpa,cycles,outcome"]
rows += [f"{i},{test['range_mpa']},{2 * test['place']['cycles'] * 10 ** (0.2 * (i % 3 - 1))},failed" for i in range(6)]
(folder / "tests.csv").write_text("\n".join(rows) + "\n")
(folder / "trike/details").mkdir()
run(shlex.split(test["fit"])[1:], 1)  # fewer than ten tests: a finding
rated = json.loads(run(["rate", "trike", "--method", "spectral", "--json"], 1).stdout)
weld = next(w for w in rated["welds"] if w["id"] == test["weld"])
own = [s for s in weld["sites"] if s["curve"] == test["fit"].split("--id ")[1].split()[0]]
assert own and all(s["coverage"] == "inside" for s in own), weld["sites"][0]
shutil.rmtree(folder / "trike/details")

(folder / "trike/rig.toml").unlink()
document = json.loads(run([*plan, "--weld", "W38.L", "--weld", "W16", "--pieces", "8", "--json"]).stdout)
assert [t["weld"] for t in document["tests"]] == ["W38.L", "W16"] and document["tests"][0]["pieces"] == 8 and document["rig"] is None
for arguments, code, words in (([*plan, "--weld", "W999"], 3, "There is no weld W999"), ([*plan, "--weld", "W54.L"], 3, "no life is predicted"),
                               ([*plan, "--pieces", "5"], 2, "--pieces"), ([*plan, "--ratio", "1.5"], 2, "--ratio"),
                               ([*plan, "--out", "plan.txt"], 2, ".pdf"), (["testplan", "nowhere"], 3, "nowhere"),
                               (["testplan", "trike", "--duty", "nothing.toml"], 3, "nothing.toml")):
    said = run(arguments, code).stderr
    assert words in said and said.count("\n") <= 4, (arguments, said)
shutil.rmtree(folder)
