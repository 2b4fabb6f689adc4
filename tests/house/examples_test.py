# SPDX-License-Identifier: GPL-3.0-or-later
"""What a person reads in the demonstration, in the starts of procedures and in a job just begun stands in every language: each text has one
line in catalog/examples/CODE.txt, no line is without its text, and a line's numbers and {arguments} are those of the English text."""
import pathlib
import re
import sys

root = pathlib.Path(sys.argv[1])
examples = root / "catalog/examples"
# Keys whose texts are the shop's own words. All other texts are ids, numbers, designations of standards and words of the format.
READ = set("""back_purge because by certificate cleaning delivery_condition drying employer filler_batch filler_make filler_size fixture gap gas_batch
gas_flow heat laboratory maker material name note nozzle other_heat post_heating preparation sequence signed_by source standard stick_out tacking
torch transfer tungsten weaving welding_order wire_feed witnessed_by""".split())
CODE = {"catalog/files/begin.cpp": r'wording\.text\("(\w+)",\s*((?:"(?:[^"\\]|\\.)*"\s*)+)\)', "app/cli/new_command.cpp": r'\.text\("(\w+)",\s*("[^"]*")\)'}
BOOK = root / "catalog/book/demo_book.cpp"


def is_read(text):
    """A word of a language, or a number that has a decimal sign."""
    return bool(re.search(r"[^\W\d_]{4,}|\d\.\d|\bto\b", text)) and not re.fullmatch(r"(\[\[?\w+\]\]?|\w+ =.*)", text)


def of_line(line, key):
    """(key, text) of each text and comment of a line, and the key that goes on in the next line."""
    found, at = [], 0
    while at < len(line):
        if line[at] == "#":
            comment = line[at:].lstrip("# ")
            found.append(("#", comment.split(" # ", 1)[-1]))
            break
        if line[at] == "=":
            key = re.search(r"([a-z0-9_]*) *$", line[:at])[1]
        if line[at] == '"':
            end = line.index('"', at + 1)
            if key in READ:
                found.append((key, line[at + 1:end]))
            at = end
        at += 1
    return found, key


def joined(literals):
    return "".join(re.findall(r'"((?:[^"\\]|\\.)*)"', literals))


needed = set()
for path in sorted(examples.rglob("*.toml")):
    key = ""
    for line in path.read_text(encoding="utf-8").split("\n"):
        found, key = of_line(line, key)
        needed |= {(k, t) for k, t in found if is_read(t)}
for path in sorted(examples.rglob("*.csv")):
    for line in path.read_text(encoding="utf-8").split("\n"):
        needed |= {("#", line.lstrip("# "))} if line.startswith("#") else {("csv", cell) for cell in line.split(",") if cell == "invented"}
for name, pattern in CODE.items():
    needed |= {(key, joined(text)) for key, text in re.findall(pattern, (root / name).read_text(encoding="utf-8"))}
source = (root / "catalog/files/begin.cpp").read_text(encoding="utf-8")
needed |= {("#", text.lstrip("# ")) for text in re.findall(r'"(# [^"]+\.)"', source)}
book = BOOK.read_text(encoding="utf-8")
needed |= {("book", text) for text in re.findall(r'worded\("([^"]+)"\)', book)}
needed |= {("book", text) for row in re.findall(r"^ *state\((.*)\);$", book, re.M) for text in re.findall(r'"([^"]*)"', row) if " " in text}
assert len(needed) > 150, "the test looks in the wrong place"
faults = [f"{BOOK}: a text that is said in English alone: {text}" for text in re.findall(r'field::\w+, "([^"]*invented[^"]*)"', book)]


def numbers(text):
    return sorted(number.replace(",", ".") for number in re.findall(r"\d+(?:[.,]\d+)?", text))


tables = sorted(examples.glob("*.txt"))
assert tables, "no language"
for path in tables:
    there = {}
    for row in path.read_text(encoding="utf-8").split("\n"):
        if not row or row.startswith("# "):
            continue
        parts = re.fullmatch(r"(#|\w+): (.+?) => (.+)", row)
        if not parts:
            faults.append(f"{path}: no key: English => other: {row}")
            continue
        key, english, other = parts.groups()
        if (key, english) in there:
            faults.append(f"{path}: twice: {key}: {english}")
        there[key, english] = other
        if re.findall(r"\{\w+\}", english) != re.findall(r"\{\w+\}", other) or numbers(english) != numbers(other):
            faults.append(f"{path}: other numbers or arguments than in English: {row}")
        if '"' in other or "\\" in other:
            faults.append(f"{path}: a quotation mark or backslash, which the files do not hold: {row}")
    faults += [f"{path}: no line for {key}: {text}" for key, text in sorted(needed - set(there))]
    faults += [f"{path}: no text for the line {key}: {text}" for key, text in sorted(set(there) - needed)]
print("\n".join(faults) or f"{len(needed)} texts of the examples stand in {len(tables) + 1} languages")
sys.exit(1 if faults else 0)
