# SPDX-License-Identifier: GPL-3.0-or-later
"""docs/validation.md is what the tests say now: current_test.py ROOT CHECKS looks up in the document every expected value that the test
programs left in that folder. (What runs beside other programs is left to tests/run report.)"""
import json
import pathlib
import sys

import report

root, folder = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
checks = [json.loads(line) for file in sorted(folder.glob("*.jsonl")) for line in file.read_text(encoding="utf-8").splitlines()]
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
