# SPDX-License-Identifier: GPL-3.0-or-later
"""What a rule set decides stands in its own file: nobody else names one, compares names, or chooses by one."""
import pathlib
import re
import sys

root = pathlib.Path(sys.argv[1])
rules = root / "engine/rules"
sets = {}
for path in sorted(rules.glob("*.cpp")):
    for name in re.findall(r'\.name = "(\w+)"', path.read_text(encoding="utf-8")):
        sets[name] = path
(row,) = re.findall(r"std::array rule_sets\{([^}]*)\}", (rules / "rule_sets.h").read_text(encoding="utf-8"))
table = re.findall(r"&(\w+)", row)
faults = [f"{path}: the set {name} is not the file's one" for name, path in sets.items() if path.stem != name]
faults += [f"rule_sets.h and the files of the sets differ: {table}, {sorted(sets)}"] * (sorted(table) != sorted(sets))
assert len(sets) > 2, "the test looks in the wrong place"

any_set = "|".join(sets)
compares = r"(?:->|\.)set\)?(?:->name)?\s*[!=]=(?! \"shop\")|[!=]=\s*(?:name_of\()?[\w.>-]*(?:->|\.)set\b"
refused = {
    f'"(?:{any_set})"': "names a rule set",
    rf"\brules::(?:{any_set})\b": "takes one rule set",
    r"\bRuleSet::": "chooses by a rule set",
    compares: "compares a rule set",
}
seen = 0
for top in ("engine", "catalog", "reports", "app"):
    for path in sorted((root / top).rglob("*")):
        if path.suffix not in (".h", ".cpp") or path.parent == rules:
            continue
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            seen += 1
            faults += [f"{path}:{number}: {what}: {line.strip()}" for pattern, what in refused.items() if re.search(pattern, line)]
assert seen > 20000, "the test looks in the wrong place"
print("\n".join(faults))
sys.exit(1 if faults else 0)
