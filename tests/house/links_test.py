# SPDX-License-Identifier: GPL-3.0-or-later
"""Every link and picture of the documents leads somewhere, every picture is used, every path in backticks exists."""
import pathlib
import re
import sys

root = pathlib.Path(sys.argv[1])
pages = [root / "README.md", root / "DEVELOPERS.md", *sorted((root / "docs").rglob("*.md"))]
texts = {page: page.read_text(encoding="utf-8") for page in pages}


def anchors(text):
    heads = re.findall(r"(?m)^#+ (.+)$", text)
    return {re.sub(r"[^\w -]", "", h.lower()).strip().replace(" ", "-") for h in heads}


faults, links, paths, used = [], 0, 0, set()
for page, text in texts.items():
    for target in re.findall(r"\]\(([^)\s]+)\)", re.sub(r"`[^`\n]*`", "", text)):
        links += 1
        name, _, anchor = target.partition("#")
        if re.match(r"[a-z]+:", name):
            faults.append(f"{page.name}: {target} leads out of the project, which works offline")
            continue
        there = (page.parent / name).resolve() if name else page
        if not there.exists():
            faults.append(f"{page.name}: {target} is not there")
        elif anchor and anchor not in anchors(there.read_text(encoding="utf-8")):
            faults.append(f"{page.name}: {target}: no such heading")
        used.add(there)
    for path in re.findall(r"`((?:app|engine|catalog|reports|tests|docs)/[\w./-]+)`", text):
        paths += 1
        if re.search(r"\b[A-Z]{3,}\b(?!\.md)", path):  # stands for a name
            continue
        if not (root / path).exists():
            faults.append(f"{page.name} names {path}, which is not there")
faults += [f"{p.relative_to(root)} is shown nowhere" for p in (root / "docs/pictures").glob("*") if p.resolve() not in used]
assert links >= 8 and paths > 20, "the test looks in the wrong place"
print("\n".join(faults))
sys.exit(1 if faults else 0)
