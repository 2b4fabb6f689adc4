# SPDX-License-Identifier: GPL-3.0-or-later
"""Every word of sentences, help and documents stands in the dictionary of its language, or in a list of the trade's words and names
(tests/house/spelling), in which no word stands that is not needed. `--renew` writes what is missing into the lists: read it."""
import pathlib
import re
import sys

sys.dont_write_bytecode = True
root = pathlib.Path(sys.argv[1])
sys.path.insert(0, str(root / "tests"))
import spelling  # noqa: E402

faults = []


def sentences(path):
    for line in path.read_text(encoding="utf-8").split("\n"):
        line = line.replace(" => ", " = ")
        if " = " in line and not line.startswith("#"):
            # "&" marks a control's letter.
            yield re.sub(r"\{\w+\}", " ", line.split(" = ", 1)[1]).replace("&", "")


def prose(path):
    """A document's sentences: no code, no tables of output, no addresses."""
    text = re.sub(r"```.*?```", " ", path.read_text(encoding="utf-8"), flags=re.S)
    text = re.sub(r"`[^`]*`|\]\([^)]*\)|<[^>]*>|https?://\S+", " ", text)
    yield text


documents = [root / "README.md", root / "DEVELOPERS.md", *(p for p in (root / "docs").rglob("*.md") if p.name not in ("validation.md", "glossary.md"))]
german_documents = [p for p in documents if p.name.endswith(".de.md")]
texts = {
    "english": ([root / "reports/text/languages/english.txt"], [p for p in documents if p not in german_documents]),
    "german": ([root / "reports/text/languages/german.txt", root / "app/cli/help/de.txt"], german_documents),
}
for language, (sentence_files, prose_files) in texts.items():
    found = spelling.words_in(t for f in sentence_files for t in sentences(f)) | spelling.words_in(t for f in prose_files for t in prose(f))
    assert len(found) > 2000, "the test looks in the wrong place"
    strange = spelling.unknown(found, language)
    assert "Seamwright" in strange, "the dictionary is not asked"
    path = spelling.list_of(language)
    if "--renew" in sys.argv:
        path.write_text("\n".join(sorted(strange, key=lambda w: (w.lower(), w))) + "\n", encoding="utf-8")
        continue
    allowed = spelling.allowed(language)
    faults += [f"{language}: '{word}' is in no dictionary nor in {path.name}" for word in sorted(strange - allowed)]
    faults += [f"{path.name}: '{word}' is not needed" for word in sorted(allowed - strange)]
print("\n".join(faults))
sys.exit(bool(faults))
