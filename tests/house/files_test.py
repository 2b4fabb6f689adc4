# SPDX-License-Identifier: GPL-3.0-or-later
"""docs/files.md and the readers name the same keys and words."""
import pathlib
import re
import sys

root = pathlib.Path(sys.argv[1])
page = (root / "docs/files.md").read_text(encoding="utf-8")
readers = "".join((root / "catalog/files" / name).read_text(encoding="utf-8") for name in ("design_reader.cpp", "welds_reader.cpp", "duty_reader.cpp", "trips_reader.cpp", "rig_reader.cpp", "returns_reader.cpp", "sweep_reader.cpp", "details_reader.cpp", "procedure_reader.cpp"))
keys = set(re.findall(r'\.(?:real|real_or_none|real_or|numbers|text|text_or|choice|choice_or|id|ids|vector|vector_or|texts|reals|tables|flag_or|each|one_of|one_of_or)\("(\w+)"', readers))
# Words of enumerations stand where their names do.
names = "".join((root / name).read_text(encoding="utf-8") for name in (*(str(p.relative_to(root)) for p in sorted((root / "engine/rules").glob("*.cpp"))), "engine/cycles/spectral.cpp", "engine/fatigue/curve.cpp"))
literals = set(re.findall(r'"([\w. /-]+)"', readers + names))
words = {w for chunk in re.findall(r"`([^`]+)`", page) for w in re.findall(r"[A-Za-z_][\w-]*", chunk)}
rows = [line for line in page.split("## Channels")[0].splitlines() if line.startswith("| ")]
named = {w for row in rows for chunk in re.findall(r"`([^`]+)`", row.split("|", 2)[2]) for w in re.findall(r"^[a-z_]\w*$", chunk)}
published = {"A", "H"}
faults = [f"docs/files.md does not name the key {k}" for k in sorted(keys) if k not in words]
faults += [f"docs/files.md names {w}, which no reader knows" for w in sorted(named - keys - literals - published)
           if not any(w in text.split() for text in literals)]
# Records of the book: the page's rows and the table of kinds.
kinds = (root / "catalog/book/kinds.cpp").read_text(encoding="utf-8")
spans = {name: re.findall(r'\{"(\w+)",\s*Type::', body) for name, body in re.findall(r"constexpr Key (\w+)\[\] = \{(.*?)\};", kinds, re.S)}
table = {kind: spans[span] for kind, span in re.findall(r'\{"([a-z-]+)", "[a-zO]*", (\w+)\}', kinds)}
section = page.split("## Records of the book")[1].split("## Results as JSON")[0]
told = {row.split("|")[1].strip(" `"): re.findall(r"`(\w+)`", row.split("|")[2]) for row in section.splitlines() if row.startswith("| `")}
faults += [f"docs/files.md and kinds.cpp differ on {kind}" for kind in sorted(table.keys() | told.keys()) if table.get(kind) != told.get(kind)]
assert len(table) > 25, "the test looks in the wrong place"
assert len(keys) > 60 and len(named) > 60, "the test looks in the wrong place"
print("\n".join(faults))
sys.exit(1 if faults else 0)
