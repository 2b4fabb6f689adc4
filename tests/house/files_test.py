# SPDX-License-Identifier: GPL-3.0-or-later
"""docs/files.md and the readers name the same keys and words."""
import pathlib
import re
import sys

root = pathlib.Path(sys.argv[1])
page = (root / "docs/files.md").read_text(encoding="utf-8")
readers = "".join((root / "catalog/files" / name).read_text(encoding="utf-8") for name in ("design_reader.cpp", "welds_reader.cpp", "plates_reader.cpp", "duty_reader.cpp", "trips_reader.cpp", "rig_reader.cpp", "returns_reader.cpp", "../sweeps/sweep_reader.cpp", "details_reader.cpp", "procedure_reader.cpp"))
keys = set(re.findall(r'\.(?:real|real_or_none|real_or|numbers|text|text_or|choice|choice_or|id|ids|vector|vector_or|texts|reals|tables|flag_or|each|one_of|one_of_or)\("(\w+)"', readers))
# Words of enumerations stand where their names do.
names = "".join((root / name).read_text(encoding="utf-8") for name in (*(str(p.relative_to(root)) for p in sorted((root / "engine/rules").glob("*.cpp"))), "engine/cycles/spectral.cpp", "engine/fatigue/curve.cpp", "engine/fatigue/growth.cpp", "engine/design/design.cpp", "engine/loads/manoeuvres.cpp"))
literals = set(re.findall(r'"([\w. /-]+)"', readers + names))
words = {w for chunk in re.findall(r"`([^`]+)`", page) for w in re.findall(r"[A-Za-z_][\w-]*", chunk)}
rows = [line for line in page.split("## Channels")[0].splitlines() if line.startswith("| ")]
named = {w for row in rows for chunk in re.findall(r"`([^`]+)`", row.split("|", 2)[2]) for w in re.findall(r"^[a-z_]\w*$", chunk)}
published = {"A", "H"}
faults = [f"docs/files.md does not name the key {k}" for k in sorted(keys) if k not in words]
faults += [f"docs/files.md names {w}, which no reader knows" for w in sorted(named - keys - literals - published)
           if not any(w in text.split() for text in literals)]
assert len(keys) > 60 and len(named) > 60, "the test looks in the wrong place"
print("\n".join(faults))
sys.exit(1 if faults else 0)
