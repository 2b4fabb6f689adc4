# SPDX-License-Identifier: GPL-3.0-or-later
"""Every source that the code cites stands in the bibliography."""
import pathlib
import re
import sys

root = pathlib.Path(sys.argv[1])
text = (root / "catalog/published/bibliography.toml").read_text(encoding="utf-8")
known = re.findall(r'^key = "([^"]+)"', text, re.M)
assert len(known) == text.count("[[reference]]") == len(set(known)), "a reference without a key of its own"
known = set(known) | {"design", "own-tests"}  # what the user's files say of themselves

cited = re.compile(r'(?:source = |Source)\{"([a-z0-9-]+)"')
faults, count = [], 0
for top in ("engine", "catalog", "reports", "app"):
    for path in (root / top).rglob("*.cpp"):
        for key in cited.findall(path.read_text(encoding="utf-8")):
            count += 1
            if key not in known:
                faults.append(f"{path}: {key} is not in the bibliography")
assert count > 30, "the pattern finds nothing any more"
if faults:
    sys.exit("\n".join(faults))
print(f"{count} citations, {len(known)} references")
