# SPDX-License-Identifier: GPL-3.0-or-later
"""No function over 60 lines and no source over 500: what is longer stands here with its reason. None has a name that says nothing."""
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
# What these do must be guessed. Said of what is declared; calls of a library's own are its own affair.
NAMELESS = r"(?:of|at|said|told|take|put|word|say|tell)"
PLACES = ("app", "catalog", "engine", "reports")
DECLARED = re.compile(
    rf"(?<![\w.])(?!(?:return|throw|else|case|new|delete|co_return|not|and|or)\b)\w[\w:]*(?:<[^;{{}}()]*>)?[&*]*\s+(?:\w+::)*({NAMELESS})\s*\("
    rf"|\bauto\s+({NAMELESS})\s*=\s*\[")
root = pathlib.Path(sys.argv[1])


def cleaned(text):
    """The text without comments and literals, as many lines and letters."""
    return re.sub(r'R"(\w*)\(.*?\)\1"|//[^\n]*|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])\'', lambda m: re.sub(r"[^\n]", " ", m.group()), text, flags=re.S)


def nameless(text):
    """(line, name) of every function and lambda with such a name."""
    clean = cleaned(text)
    return [(clean.count("\n", 0, m.end()) + 1, m.group(1) or m.group(2)) for m in DECLARED.finditer(clean)]


for sample in ("QString of(const std::string& text);", "void Reading::take(int i) {", "  const Buffer& at(File file) const {",
               "std::vector<std::vector<int>> said(int a);", "const auto tell = [&](double share) {", "  virtual void put(int) = 0;"):
    assert len(nameless(sample)) == 1, sample
for sample in ("return at(3);", "x = rows.at(i) + a * columns.at(j);", "if (ready && m.at(k) > 0)", "f(names.at(0), std::get<0>(t).at(1));",
               "// what it said (and told)", "throw at(3);", "std::string text_of(int);", "auto rest = of;"):
    assert not nameless(sample), sample


def functions(text):
    """(first line, lines) of every function at namespace or class level."""
    clean = cleaned(text)
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
        if name.endswith((".cpp", ".h")) and name.split("/")[0] in PLACES:
            faults += [f"{name}:{line}: what does {word}() do?" for line, word in nameless(text)]
    print("\n".join(faults))
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
