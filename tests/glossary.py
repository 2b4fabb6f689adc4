# SPDX-License-Identifier: GPL-3.0-or-later
"""glossary.py ROOT: docs/glossary.md from docs/glossary.toml, the words of the program in English and German."""
import pathlib
import sys
import tomllib

root = pathlib.Path(sys.argv[1])


def page(glossary):
    lines = ["# Glossary", "",
             "Each concept has one word, in sentences, labels, keys, sheets and documents. Written by `tests/glossary.py` from [glossary.toml](glossary.toml); a house test refuses",
             "the words that stand as never. The standards are named from memory, none was open while this was written: check their clauses before you quote them. \"Ours\" means that",
             "no standard has a word for it.", ""]
    for subject in glossary["subject"]:
        lines += [f"## {subject['title']}", "", "| English | German | used by | meaning | never |", "| --- | --- | --- | --- | --- |"]
        for term in subject["term"]:
            short = f" ({term['short']})" if "short" in term else ""
            never = ", ".join([*term.get("not_en", []), *term.get("not_de", [])])
            lines.append(f"| {term['en']}{short} | {term['de']} | {term['from']} | {term['means']} | {never} |")
        lines.append("")
    return "\n".join(lines).rstrip("\n") + "\n"


if __name__ == "__main__":
    written = page(tomllib.loads((root / "docs/glossary.toml").read_text(encoding="utf-8")))
    (root / "docs/glossary.md").write_text(written, encoding="utf-8")
