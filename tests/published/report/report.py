# SPDX-License-Identifier: GPL-3.0-or-later
"""docs/validation.md from the checks that the tests wrote: report.py CHECKS.jsonl CATALOG_FOLDER OPEN.md OUT.md

Each line of CHECKS is one check (tests/published/outside, tests/published/live/outside.py). Numbers without a source, failed checks
and an empty file end with exit 1: a report must not look better than the tests.
"""
import json
import pathlib
import re
import sys
import tomllib
from collections import Counter, defaultdict

SUBJECTS = {"formulas": "Formulas typed a second time", "frame": "Frame: sections, beams, frequencies",
            "joints": "Joints: stress concentration, resistance, bolts, notches",
            "fatigue": "Fatigue: curves, damage, likelihood, growth", "cycles": "Cycles: rainflow and spectra", "loads": "Loads: roads, rides, manoeuvres, tipping",
            "rules": "Rule sets: local stress and its read-out points", "shape": "Solids: bodies, views and cuts", "solid": "Joints by finite elements",
            "rating": "Rating: peaks and whole-vehicle plausibility", "procedure": "Welding procedures", "qualification": "Procedures and welders: what they cover",
            "inspection": "Inspection: limits and tolerances", "study": "Searches: least weight from sizes in stock", "live": "Beside other programs, run live"}
BASES = ["printed", "measured", "closed form", "live", "evaluated", "recalled"]
MANY = 8  # rows of one line of a test from which on only the worst is shown


def number(x):
    return "" if x is None else f"{x:.7g}"


def left_side(what):
    """The quantity of a check, without what it is compared with."""
    what = re.sub(r"\s+", " ", what)
    what = re.split(r" == |, Within(?:Abs|Rel)\(", what)[0]
    return what if len(what) <= 90 else what[:88] + " …"


def share(check):
    """How much of its tolerance a check uses; an exact one none."""
    off = abs(check["obtained"] - check["expected"])
    return off / check["tolerance"] if check["tolerance"] else (0 if off == 0 else float("inf"))


def row(check, many=""):
    code = check["what"] if check["basis"] == "live" else f"`{left_side(check['what'])}`"
    which = "; ".join(check.get("which", []))
    if code == "`value`" and which:  # a row of a table, which says what it is
        code, which = which, ""
    off = abs(check["obtained"] - check["expected"])
    cells = [code + (f" ({which})" if which else "") + many, number(check["expected"]), number(check["obtained"]), f"{off:.1e}" if off else "0",
             f"{check['tolerance']:.1e}" if check["tolerance"] else "exact"]
    return "| " + " | ".join(c.replace("|", "\\|") for c in cells) + " |"


def subject_of(check):
    return pathlib.Path(check["file"]).parent.name


def rows_of(checks):
    by_line = defaultdict(list)
    for c in checks:
        by_line[c["file"], c["line"]].append(c)
    for group in by_line.values():
        if len(group) <= MANY:
            yield from map(row, group)
        else:
            yield row(max(group, key=share), f": the worst of {len(group)} values")


def tests_of(checks):
    """The checks of each test and source."""
    tests = defaultdict(list)
    for c in checks:
        tests[c["file"], c["test"], c["source"], c["basis"], c["why"]].append(c)
    return tests


def section(subject, checks, root):
    yield f"## {SUBJECTS[subject]}\n"
    above = None
    for (file, test, source, basis, why), group in tests_of(checks).items():
        numbers = [c for c in group if "obtained" in c]
        path = pathlib.Path(file).relative_to(root)
        if (file, test) != above:  # one test can be held to several sources
            yield f"### {test[0].upper() + test[1:]}\n"
            above = file, test
        mark = " [from memory]" if basis == "recalled" and "from memory" not in source else ""
        yield f"{source}{mark}. *{basis}*. Tolerance: {why}. [{path}](../{path}), line {group[0]['line']}.\n"
        decisions = len(group) - len(numbers)
        if decisions:
            yield f"{decisions} statement{'s' if decisions > 1 else ''} of this test hold{'' if decisions > 1 else 's'}.\n"
        if numbers:
            yield "| what | expected | obtained | difference | tolerance |\n| --- | ---: | ---: | ---: | ---: |"
            yield from rows_of(numbers)
            yield ""


def remembered(catalog):
    for path in sorted(catalog.glob("*.toml")):
        for kind, rows in tomllib.loads(path.read_text(encoding="utf-8")).items():
            if not isinstance(rows, list):
                continue
            marked = [r for r in rows if isinstance(r, dict) and r.get("from_memory")]
            if marked:
                yield path.stem, kind, len(rows), marked


def name_of(entry):
    return str(entry.get("id") or " ".join(str(entry[k]) for k in ("set", "number", "name", "from", "to", "kind", "stress", "curve") if k in entry) or entry)


def main(checks_path, catalog, open_path, out):
    root = pathlib.Path(__file__).resolve().parents[3]
    entries = [json.loads(line) for line in pathlib.Path(checks_path).read_text(encoding="utf-8").splitlines()]
    edges = [e for e in entries if "edge" in e]
    checks = [e for e in entries if "edge" not in e]
    failed = [c for c in checks if not c["met"]]
    bare = [c for c in checks if "obtained" in c and c["obtained"] is not None and "source" not in c]
    for c in failed + bare:
        print(f"{c['file']}:{c['line']}: {'failed' if c in failed else 'a number without a source'}: {c['what']}", file=sys.stderr)
    ours = sum(c.get("basis", "ours") == "ours" for c in checks)
    checks = [c for c in checks if c.get("basis", "ours") != "ours" and c.get("obtained", 0) is not None]
    if failed or bare or not checks:
        return 1

    checks = [c for c in checks if subject_of(c) != "thresholds"]  # the bounds have a table of their own
    by_subject = defaultdict(list)
    for c in checks:
        by_subject[subject_of(c)].append(c)
    unknown = set(by_subject) - set(SUBJECTS)
    assert not unknown, unknown
    numbers = [c for c in checks if "obtained" in c]
    text = ["# Validation", "",
            "Written by `tests/run report` from the tests themselves: what the program says beside what comes from outside the project. Nothing here is "
            "typed by hand but the last section but one. A check passes when the difference is within its tolerance; all of these pass.", "",
            f"{len(numbers)} numbers and {len(checks) - len(numbers)} statements in {len({(c['file'], c['test']) for c in checks})} tests; "
            f"{len(edges)} bounds seen from both sides. {ours} further checks of the same tests are held to nothing outside and are left out.", "",
            "**Cautions.** Agreement with a source shows that the source was followed, not that a frame is safe. A rating is an estimate for an engineer to judge; "
            "it does not replace rig tests. Local codes and licensed practice prevail.", "",
            "## Where the expected values come from", "",
            "*Printed*: a worked example or table of the source. *Measured*: measurements or certified data. *Closed form*: an exact solution. *Live*: another "
            "program, run beside ours. *Evaluated*: the source's formula evaluated apart from the program. *Recalled*: value or formula remembered, not read "
            "again; these are the weakest, and are marked as such wherever the program shows them.", "",
            "| subject | " + " | ".join(BASES) + " | all |", "| --- |" + " ---: |" * (len(BASES) + 1)]
    for subject, title in SUBJECTS.items():
        count = Counter(c["basis"] for c in by_subject[subject])
        if count:
            text.append(f"| {title} | " + " | ".join(str(count[b] or "–") for b in BASES) + f" | {sum(count.values())} |")
    count = Counter(c["basis"] for c in checks)
    text += [f"| **all** | " + " | ".join(str(count[b] or "–") for b in BASES) + f" | {sum(count.values())} |", ""]
    for subject in SUBJECTS:
        if by_subject[subject]:
            text += section(subject, by_subject[subject], root)
    text += ["## Bounds from both sides", "", "A rule says on which side of each of its bounds a value lies; both sides are tried.", "",
             "| what | bound | on it | beyond | source |", "| --- | --- | --- | --- | --- |"]
    for e in edges:
        mark = " [from memory]" if e.get("basis") == "recalled" else ""
        cells = [e["edge"], e["bound"], e["on"], e["beyond"], e.get("source", "") + mark]
        text.append("| " + " | ".join(re.sub(r"\s+", " ", c).replace(" : ", ": ").strip().replace("|", "\\|") for c in cells) + " |")
    text += ["", "## What is not validated", "", pathlib.Path(open_path).read_text(encoding="utf-8").strip(), "",
             "## Rows of the catalog from memory", "",
             "Remembered, not read again. Whoever has the source at hand can check them and take the mark away.", ""]
    for stem, kind, of, rows in remembered(pathlib.Path(catalog)):
        text += [f"**{stem}.toml, {kind}**: {len(rows)} of {of}.", "", ", ".join(f"`{name_of(r)}`" for r in rows) + ".", ""]
    pathlib.Path(out).write_text("\n".join(text) + "\n", encoding="utf-8")
    print(f"{out}: {len(numbers)} numbers, {len(checks) - len(numbers)} statements, {len(edges)} bounds")
    return 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
