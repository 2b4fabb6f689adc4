# SPDX-License-Identifier: GPL-3.0-or-later
"""Includes go app -> reports -> catalog -> engine, inside engine study -> strength, measured -> rating -> sites -> design, rules -> others -> evidence; reports only tell; no header reaches half of the sources; every source has its licence line."""
import collections
import pathlib
import re
import sys

root = pathlib.Path(sys.argv[1])
allowed = {
    "engine": {"engine"},
    "catalog": {"catalog", "engine"},
    "reports": {"reports", "catalog", "engine"},
    "app": {"app", "reports", "catalog", "engine"},
}
engine = {
    "evidence": set(), "machine": set(), "frame": {"evidence"}, "cycles": {"evidence", "machine"}, "signal": {"cycles", "evidence"}, "joints": {"evidence"}, "fatigue": {"evidence", "machine"},
    "procedure": {"evidence"}, "qualification": {"procedure", "inspection", "evidence"}, "inspection": {"evidence"}, "loads": {"frame", "evidence"},
}
engine["rules"] = {"fatigue", "joints", "evidence"}
engine["design"] = {"loads", "joints", "fatigue", "frame", "evidence"}
engine["shape"] = engine["design"] | {"design"}
engine["solid"] = engine["shape"] | {"shape"}
engine["sites"] = engine["design"] | {"design", "rules", "shape", "solid"}
engine["rating"] = engine["sites"] | {"sites", "cycles", "machine"}
engine["strength"] = engine["rating"] | {"rating"}
engine["measured"] = engine["strength"] | {"signal"}
engine["study"] = engine["rating"] | {"rating", "strength", "measured"}
faults, seen = [], 0
for top in allowed:
    for path in sorted((root / top).rglob("*")):
        if path.suffix not in (".h", ".cpp"):
            continue
        text = path.read_text(encoding="utf-8")
        if not text.startswith("// SPDX-License-Identifier: GPL-3.0-or-later"):
            faults.append(f"{path}: no licence line")
        for target in re.findall(r'#include "([^"]+)"', text):
            seen += 1
            parts = target.split("/")
            if parts[0] not in allowed[top]:
                faults.append(f"{path}: includes {target}")
            if top == "engine":
                here = path.relative_to(root / "engine").parts[0]
                if parts[1] != here and parts[1] not in engine[here]:
                    faults.append(f"{path}: includes {target}")
# Numbers as people type them are read in one way; these ways follow the language or stop at a comma.
for top in ("app", "reports", "catalog", "engine"):
    for path in sorted((root / top).rglob("*")):
        if path.suffix in (".h", ".cpp"):
            for way in re.findall(r"QDoubleSpinBox|\.toDouble\(|\bsto[df]\(|\bstrtod\(|\batof\(", path.read_text(encoding="utf-8")):
                faults.append(f"{path}: {way}: typed_number() reads what people type")
# What people read is made from results: nothing in reports/ rates a job, puts a question to it, reads a file or opens a book.
asks = {
    "rates or works out": r"\brating::rate\(|\bstudy::(?:rate_pair|compare|recalibrate|sweep|influences|suggestions|throats_needed|stability_of|bolt_torques|frame_deck)\("
                          r"|\bmeasured::(?:field_model|calibrate|gauge_plan|judge_readings|rate_rigs?|ridden_road|stress_damage)\(|\bstrength::rate_peaks?\(",
    "reads or writes files": r"\bfiles::(?:read|write|understand|begin|apply_as_built|design_path|duty_path|compare_jobs|work_through|differences)\w*\("
                             r"|\bsweeps::\w+\(|\bfiles::(?:procedure_report|welders_report|inspection_report|beside)\(|\b[io]?fstream\b|\bfilesystem\b|\bf(?:re)?open\(|\bQ(?:Save)?File\b|\bQDir\b",
    "opens a book": r"\bBook::(?:open|create)\w*\(|\bsqlite3_|\bDatabase\b",
}
allowed_in_reports = {("sheets/frame_sheet.cpp", "reads or writes files")}  # the drawing of a design frozen in the book
met = set()
for path in sorted((root / "reports").rglob("*")):
    if path.suffix in (".h", ".cpp"):
        name, text = path.relative_to(root / "reports").as_posix(), re.sub(r"//.*", "", path.read_text(encoding="utf-8"))
        for what, pattern in asks.items():
            found = sorted({m.group(0) for m in re.finditer(pattern, text)})
            if found and (name, what) in allowed_in_reports:
                met.add((name, what))
            elif found:
                faults.append(f"{path}: {what}: {', '.join(found)}")
faults += [f"reports/{name}: no longer {what}: take its exception away" for name, what in sorted(allowed_in_reports - met)]
# Readers take files from wherever they are: nothing is laid down for a while to be read again.
for top in ("reports", "catalog", "engine"):
    for path in sorted((root / top).rglob("*")):
        if path.suffix in (".h", ".cpp"):
            for way in re.findall(r"temp_directory_path|mkdtemp|TMPDIR", path.read_text(encoding="utf-8")):
                faults.append(f"{path}: {way}: a SourceFile may stand in a book or in memory")
# One room knows what a book is kept in, one file how a table of variants becomes a database.
kept = 0
for top in ("app", "reports", "catalog", "engine"):
    for path in sorted((root / top).rglob("*")):
        if path.suffix not in (".h", ".cpp"):
            continue
        ways = re.findall(r"sqlite3\w*|PRAGMA|SQLite format", path.read_text(encoding="utf-8"))
        if path.is_relative_to(root / "catalog/book/store"):
            kept += len(ways)
        elif path != root / "catalog/sweeps/sweep_database.cpp":
            faults += [f"{path}: {way}: only catalog/book/store knows what a book is kept in" for way in ways]
# A change of one header is to compile less than half of the sources again; what each value rests on stands in all of them.
includes = {}
for top in allowed:
    for path in (root / top).rglob("*"):
        if path.suffix in (".h", ".cpp"):
            includes[path.relative_to(root).as_posix()] = re.findall(r'#include "([^"]+)"', path.read_text(encoding="utf-8"))


def reached(name):
    found, left = set(), [name]
    while left:
        new = [h for h in includes.get(left.pop(), []) if h not in found]
        found.update(new)
        left += new
    return found


sources = [name for name in includes if name.endswith(".cpp")]
reach = collections.Counter(h for name in sources for h in reached(name))
everywhere = {"engine/evidence/evidence.h", "engine/evidence/listed_id.h", "engine/evidence/message_ids.h",
              "engine/frame/vector.h", "engine/frame/section.h", "engine/frame/material.h"}  # a vector, a section, a material: mechanics and shape speak in them
for header, count in reach.most_common():
    if 2 * count > len(sources) and header not in everywhere:
        faults.append(f"{header}: {count} of {len(sources)} sources reach it; declare its types where a header only names them")
assert reach["engine/evidence/evidence.h"] > len(sources) / 2, "no header reaches far: the test looks in the wrong place"
assert kept > 20, "the store is not where the test looks"
assert seen > 50, "no includes found: the test looks in the wrong place"
print("\n".join(faults))
sys.exit(1 if faults else 0)
