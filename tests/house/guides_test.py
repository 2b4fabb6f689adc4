# SPDX-License-Identifier: GPL-3.0-or-later
"""A page of the guide in another language (welder.de.md) has the headings, commands, pictures, links and numbers of the English one."""
import collections
import pathlib
import re
import sys

root = pathlib.Path(sys.argv[1])


def commands(text):
    """Each command with its exit code and how many lines are shown below it."""
    told = []
    for block in re.findall(r"(?m)^```\n(.*?)^```", text, re.S):
        for part in re.split(r"(?m)^\$ ", block)[1:]:
            head, *lines = part.splitlines()
            told.append(f"$ {head} ({sum(bool(line.strip()) for line in lines)} lines)")
    return told


def prose(text):
    return re.sub(r"(?ms)^```\n.*?^```", "", text)


def numbers(text):
    """Numbers as values: either decimal sign, thousands apart or not."""
    found = re.findall(r"\d+(?:[ \u00a0\u202f]\d{3}(?!\d))*(?:[.,]\d+)?", re.sub(r"\]\([^)\s]+\)", "]", prose(text)))
    return [re.sub(r"[ \u00a0\u202f]", "", number).replace(",", ".") for number in found]


def sides(text, code):
    targets = re.findall(r"(!?)\[[^]]*\]\(([^)\s]+)\)", text)
    return {
        "headings": re.findall(r"(?m)^(#+) ", prose(text)),
        "commands": commands(text),
        "pictures": [pathlib.PurePath(to).name for mark, to in targets if mark],
        "links": [to.replace(f".{code}.md", ".md") for mark, to in targets if not mark],
        "numbers": sorted(numbers(text)),
    }


def faults_of(page, own, english, code):
    told = []
    for side, there in sides(english, code).items():
        here = sides(own, code)[side]
        if here == there:
            continue
        lacks, extra = (sorted((collections.Counter(a) - collections.Counter(b)).elements()) for a, b in ((there, here), (here, there)))
        told.append(f"{page}: {side} differ from the English page: lacks {lacks}, has besides {extra}" if lacks or extra else f"{page}: {side} in another order")
    return told


faults, pairs = [], 0
for path in sorted((root / "docs/guide").glob("*.*.md")):
    stem, code = path.stem.split(".")
    pairs += 1
    faults += faults_of(path.name, path.read_text(encoding="utf-8"), (path.parent / f"{stem}.md").read_text(encoding="utf-8"), code)
for path in (root / "docs/guide").glob("*.md"):
    if len(path.suffixes) == 1 and not path.with_suffix(".de.md").exists():
        faults.append(f"{path.name} has no German page")
# A page with one number, one command and one picture changed is found.
sample = "# A\n\n2.5 mm ![x](a/b.png)\n```\n$ seamwright rate a\nline\n```\n"
for old, new in (("2.5", "2.6"), ("rate a", "rate b"), ("b.png", "c.png"), ("# A", "## A")):
    assert len(faults_of("x", sample.replace(old, new), sample, "de")) == 1, old
assert not faults_of("x", sample.replace("2.5", "2,5"), sample, "de")
assert pairs >= 4, pairs
print("\n".join(faults))
sys.exit(1 if faults else 0)
