# SPDX-License-Identifier: GPL-3.0-or-later
"""Comments are sentences: none begins with a preposition or a relative and stops before it has said anything."""
import pathlib
import re
import sys

root = pathlib.Path(sys.argv[1])
openers = re.compile(
    r"(?:Of|For|With|Without|In|Into|On|At|By|From|To|Towards|Under|Over|Above|Below|Beside|Between|Behind|Beyond|Along|Across|About|Around|Against|Near|Through|Within|During"
    r"|Before|After|Until|Since|While|When|Because|As|Which|That|What|Whatever|Where|Whether|Who|Whoever|Whose|Why|How)\b")


def blocks(text):
    """Each run of comment lines of one kind: line of its beginning, "//" or "///", words."""
    start, mark, words = 0, "", []
    for number, line in enumerate(text.splitlines() + [""], 1):
        found = re.match(r"\s*(///?)(?: (.*))?$", line)
        if found and found[1] == mark and found[2]:
            words.append(found[2])
            continue
        if words:
            yield start, mark, " ".join(words)
        start, mark, words = number, found[1] if found else "", [found[2]] if found and found[2] else []
        if words and words[0].startswith("SPDX"):  # a header comment begins below it
            mark, words = "", []


def is_fragment(words, public):
    """What is public says its subject first; elsewhere an opening clause may stand before a comma and a main clause."""
    if not openers.match(words):
        return False
    first = re.split(r"[.:;](?:\s|$)", words)[0]
    return public or not re.search(r", \w", re.sub(r"\([^)]*\)|\"[^\"]*\"", "", first))


def faults_of(path, text):
    first_code = next((n for n, line in enumerate(text.splitlines(), 1) if line and not line.startswith("//")), 1)
    for line, mark, words in blocks(text):
        public = line < first_code or mark == "///" and path.suffix == ".h"
        if is_fragment(words, public):
            yield f"{path}:{line}: no sentence: {words[:70]}"


# The rule itself, before it is asked of the tree.
sample = "// SPDX-License-Identifier: GPL-3.0-or-later\n// What a tube is.\n#pragma once\n\n/// Of a tube,\n/// mm.\nint a;\n// When it bends, it yields.\n// In mm.\nint b;\n  // With care.\n"
caught = [f.split(":")[1] for f in faults_of(pathlib.Path("sample.h"), sample)]
assert caught == ["2", "5", "11"], caught

faults, seen = [], 0
for top in ("engine", "catalog", "reports", "app", "tests", "docs"):
    for path in sorted((root / top).rglob("*")):
        if path.suffix in (".h", ".cpp"):
            text = path.read_text(encoding="utf-8")
            seen += sum(1 for _ in blocks(text))
            faults += faults_of(path, text)
assert seen > 2000, "the test looks in the wrong place"
print("\n".join(faults))
sys.exit(1 if faults else 0)
