# SPDX-License-Identifier: GPL-3.0-or-later
"""One check of the program against another program that runs beside it: printed, asserted and, with SEAMWRIGHT_CHECKS=FILE in the
environment, written there as a line of JSON for the validation report."""
import inspect
import json
import os
import re


def check(what, obtained, expected, tolerance, source, why):
    """Within tolerance, in the unit of the numbers; source names the other program, why the tolerance."""
    caller = next(f for f in inspect.stack() if f.filename != __file__)
    subject = re.split(r"[.:](?:\s|$)", caller.frame.f_globals["__doc__"])[0].replace("\n", " ")
    met = bool(abs(obtained - expected) <= tolerance)
    entry = {"file": caller.filename, "line": caller.lineno, "test": subject, "what": what,
             "obtained": float(obtained), "expected": float(expected), "tolerance": float(tolerance), "basis": "live", "source": source,
             "why": why, "met": met}
    print(f"{what}: {obtained:.6g} and {expected:.6g}, difference {abs(obtained - expected):.2g} (limit {tolerance:.2g}: {why})")
    if path := os.environ.get("SEAMWRIGHT_CHECKS"):
        with open(path, "a", encoding="utf-8") as lines:
            lines.write(json.dumps(entry) + "\n")
    assert met, what


def apart(what, difference, limit, source, why):
    """A largest relative difference over many values, against nought."""
    check(what + ", largest relative difference", difference, 0, limit, source, why)
