# SPDX-License-Identifier: GPL-3.0-or-later
"""Fields of records are asked for by their constants (catalog/book/records/names.h), and no widget puts a record together by hand."""
import pathlib
import re
import sys

root = pathlib.Path(sys.argv[1])
names = (root / "catalog/book/records/names.h").read_text(encoding="utf-8")
fields = re.findall(r'char\* \w+ = "([a-z0-9_]+)"', names.split("namespace field {")[1].split("}  // namespace field")[0])
assert len(fields) > 80, "the test looks in the wrong place"
one = '"(' + "|".join(fields) + ')"'
# A field is read, looked for, or put into a payload; names of arguments of messages are other things.
asked = [re.compile(p) for p in (
    rf'(?:\.|->)text_of\({one}\)',
    rf'\bword_at\([^;"]*, {one}\)',
    rf'\b(?:content|payload)\S*\[{one}\]',
    rf'\b(?:content|payload)\S*\.(?:contains|find|value|at|erase)\({one}',
    rf'\bpayload\{{\{{{one},')]
built = re.compile(r"\bJson\s*\{|\bJson\s+\w+\s*[{=;]|\bJson::(?:object|array)\(|payload\.dump\(|payload\[")

faults, sources = [], 0
for top in ("catalog/book", "reports", "app"):
    for path in sorted([*(root / top).rglob("*.cpp"), *(root / top).rglob("*.h")]):
        text = path.read_text(encoding="utf-8")
        if "records" in path.parts or not ("catalog/book/" in text or "book::" in text or top == "catalog/book"):
            continue
        sources += 1
        name = path.relative_to(root)
        faults += [f"{name}: {m.group(1)} is typed as a text: {m.group(0)}" for p in asked for m in p.finditer(text)]
        if "desktop" in path.parts:
            faults += [f"{name}: a record put together, or shown raw, in a widget: {m.group(0)}" for m in built.finditer(text)]
assert sources > 40, "the test looks in the wrong place"
for sample in ('r.text_of("welder")', 'word_at(s.old->content, "lots")', 'payload["amperes"]', 'r.content.contains("file")', 'payload{{"frame", 1}}'):
    assert any(p.search(sample) for p in asked), sample
print("\n".join(faults))
sys.exit(1 if faults else 0)
