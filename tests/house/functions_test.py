# SPDX-License-Identifier: GPL-3.0-or-later
"""No function over 60 lines and no source over 500: what is longer stands here with its reason."""
import pathlib
import re
import sys

FUNCTION, FILE = 60, 500
FOLDERS = ("app", "catalog", "docs", "engine", "reports", "tests")
LONGER = {
    "tests/engine/frame/fault_test.cpp": "one table of refusals",
    "tests/catalog/book/gaps_test.cpp": "one book, each fault of it in turn",
    "tests/published/thresholds/thresholds_test.cpp": "one table of bounds",
}
root = pathlib.Path(sys.argv[1])


def functions(text):
    """(first line, lines) of every function at namespace or class level."""
    clean = re.sub(r'R"(\w*)\(.*?\)\1"|//[^\n]*|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])\'', lambda m: re.sub(r"[^\n]", " ", m.group()), text, flags=re.S)
    outer, since = [], 0  # blocks around: True where functions may stand
    for m in re.finditer(r"[{};]", clean):
        if m.group() == ";":
            since = m.end()
        elif m.group() == "{":
            head = clean[since:m.start()]
            scope = bool(re.search(r"\b(namespace|struct|class|enum|union|extern)\b[^()]*$", head))
            starts = not scope and ")" in head and "=" not in head.split("(")[0] and all(outer[i][0] for i in range(len(outer)))
            line = clean.count("\n", 0, since + len(head) - len(head.lstrip())) + 1
            outer.append((scope, starts, line))
            since = m.end()
        elif outer:
            _, starts, line = outer.pop()
            since = m.end()
            if starts:
                yield line, clean.count("\n", 0, m.start()) + 2 - line


def main():
    faults = []
    for path in sorted(p for folder in FOLDERS for p in (root / folder).rglob("*") if p.suffix in (".cpp", ".h", ".py", ".sh")):
        name = str(path.relative_to(root))
        if name in LONGER:
            continue
        text = path.read_text(encoding="utf-8")
        if text.count("\n") > FILE:
            faults.append(f"{name}: {text.count(chr(10))} lines")
        if name.endswith((".cpp", ".h")):
            faults += [f"{name}:{line}: a function of {lines} lines" for line, lines in functions(text) if lines > FUNCTION]
    print("\n".join(faults))
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
