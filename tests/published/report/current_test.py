# SPDX-License-Identifier: GPL-3.0-or-later
"""docs/validation.md is what the tests say now: current_test.py ROOT PROGRAM... runs the test programs and looks every expected value up
in the document. (What runs beside other programs is left to tests/run report.)"""
import json
import os
import pathlib
import subprocess
import sys
import tempfile

import report

root, programs = pathlib.Path(sys.argv[1]), sys.argv[2:]
with tempfile.TemporaryDirectory() as folder:
    path = pathlib.Path(folder) / "checks"
    for program in programs:
        subprocess.run([program], env=os.environ | {"SEAMWRIGHT_CHECKS": str(path)}, check=True, stdout=subprocess.DEVNULL)
    checks = [json.loads(line) for line in path.read_text(encoding="utf-8").splitlines()]
text = (root / "docs/validation.md").read_text(encoding="utf-8")
missing = set()
for check in checks:
    if "edge" in check:
        wanted = f"| {check['edge']} | {check['bound'].strip()} |"
    elif check.get("basis", "ours") == "ours" or report.subject_of(check) == "thresholds":
        continue
    else:
        wanted = check["source"]
    if wanted not in text:
        missing.add(wanted)
rows = {line.rsplit(" | ", 3)[0] for line in text.splitlines() if line.startswith("| ")}
numbers = [c for c in checks if "obtained" in c and c.get("basis", "ours") != "ours" and report.subject_of(c) != "thresholds"]
tests = report.tests_of(numbers).values()
missing |= {row.rsplit(" | ", 3)[0] for test in tests for row in report.rows_of(test)} - rows
assert len(numbers) > 500
print("\n".join(sorted(missing)))
if missing:
    sys.exit("docs/validation.md is not what the tests say: tests/run report")
