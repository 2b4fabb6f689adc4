# SPDX-License-Identifier: GPL-3.0-or-later
"""No sentence, label or document uses a word that the glossary refuses; docs/glossary.md is what the glossary says."""
import importlib.util
import pathlib
import re
import sys
import tomllib

root = pathlib.Path(sys.argv[1])
faults = []
glossary = tomllib.loads((root / "docs/glossary.toml").read_text(encoding="utf-8"))
terms = [term for subject in glossary["subject"] for term in subject["term"]]
assert len(terms) > 50, "the test looks in the wrong place"
for kind in ("en", "de"):
    seen = set()
    for term in terms:
        if term[kind] in seen:
            faults.append(f"glossary.toml: {term[kind]} stands twice")
        seen.add(term[kind])

spec = importlib.util.spec_from_file_location("glossary", root / "tests/glossary.py")
writer = importlib.util.module_from_spec(spec)
spec.loader.exec_module(writer)
if (root / "docs/glossary.md").read_text(encoding="utf-8") != writer.page(glossary):
    faults.append("docs/glossary.md is not what glossary.toml says: python3 tests/glossary.py .")


def refused(kind):
    return [(word, re.compile(r"\b" + re.escape(word) + r"\b", re.IGNORECASE)) for term in terms for word in term.get(f"not_{kind}", [])]


def look(path, kind, skip=()):
    for number, line in enumerate(path.read_text(encoding="utf-8").split("\n"), 1):
        for word, pattern in refused(kind):
            if pattern.search(line) and not any(s in line for s in skip):
                faults.append(f"{path.relative_to(root)}:{number}: the glossary refuses '{word}'")


assert re.search(refused("en")[0][1], f"a {refused('en')[0][0]} b"), "the patterns find nothing"
look(root / "reports/text/languages/english.txt", "en")
look(root / "reports/text/languages/german.txt", "de")
look(root / "app/cli/help/de.txt", "de")
documents = [root / "README.md", root / "DEVELOPERS.md", *(root / "docs").rglob("*.md")]
german = [path for path in documents if path.name.endswith(".de.md")]
assert german, "no German document is found"
for path in documents:
    if path.name != "glossary.md":
        look(path, "de" if path in german else "en")
print("\n".join(faults))
sys.exit(bool(faults))
