# SPDX-License-Identifier: GPL-3.0-or-later
"""Every message id that the sources name has its sentence in all languages, with the arguments that are given; no sentence is unused."""
import pathlib
import re
import sys

root = pathlib.Path(sys.argv[1])
faults = []


def read(path):
    """{id: [sentence, or its forms]}, in the order of the file; says what is not as the file's first lines have it."""
    found, last = {}, ""
    for number, line in enumerate(path.read_text(encoding="utf-8").split("\n"), 1):
        if not line:
            last = ""  # a subject ends
        row = re.fullmatch(r"([a-z]+(?:-[a-z]+)*\.[^ =]+)(?: \{(\w+)\} (one|other))? = (\S(?:.*\S)?)", line)
        if not row:
            if line and line[0] != "#" and not re.fullmatch(r"(code|name|decimal-mark|group-mark|one) = \S.*", line):
                faults.append(f"{path}:{number}: no id = sentence")
            continue
        key, count, form, sentence = row.groups()
        if (key, form) != (last, "other") and not last < key:
            faults.append(f"{path}:{number}: {key} stands after {last}")
        if key in found and form != "other":
            faults.append(f"{path}:{number}: {key} stands twice")
        if count and "{" + count + "}" not in sentence and form == "other":
            faults.append(f"{path}:{number}: {key} does not say {count}")
        last = key
        found.setdefault(key, []).append(sentence)
    return found


def holes(sentence):
    return sorted(re.findall(r"\{(\w+)\}", sentence))


languages = {path.stem: read(path) for path in sorted((root / "reports/text/languages").glob("*.txt"))}
english = languages["english"]
sentences = {key: forms[-1] for key, forms in english.items()}
for name, other in languages.items():
    faults += [f"{name}: no sentence {key}" for key in english if key not in other]
    faults += [f"{name}: the sentence {key} is not in English" for key in other if key not in english]
    if list(other) != list(english):
        faults.append(f"{name}: the sentences stand in another order than in English")
    faults += [f"{name}: {key} names other arguments than in English" for key, forms in other.items()
               if key in english and holes(forms[-1]) != holes(english[key][-1])]
    faults += [f"{name}: {key} has an argument in its form `one` that the other form lacks" for key, forms in other.items()
               if not set(holes(forms[0])) <= set(holes(forms[-1]))]
assert len(languages) > 1 and len(sentences) > 1000, "the test looks in the wrong place"
prefixes = {key.split(".")[0] for key in sentences}

used, composed = {}, set()
for top in ("engine", "catalog", "reports", "app"):
    for path in [*(root / top).rglob("*.cpp"), *(root / top).rglob("*.h")]:
        text = path.read_text(encoding="utf-8")
        for key in re.findall(r'"([a-z]+(?:-[a-z]+)*\.[a-z0-9_-]*)"', text):
            if key.split(".")[0] in prefixes:
                (composed.add(key) if key.endswith(("-", ".")) else used.setdefault(key, path))

faults += [f"{path}: no sentence for {key}" for key, path in sorted(used.items()) if key not in sentences]
faults += [f"sentence {key} is used nowhere" for key in sorted(sentences)
           if key not in used and not any(key.startswith(c) for c in composed)]

# Families whose names are written where they are given: each name has its sentence.
families = {
    "peak.": ("engine/loads/peak_cases.cpp", r'\badd(?:_forces)?\("([a-z-]+)"'),
    "strength.": ("engine/strength/strength_checks.cpp", r'keep_worse\(\s*\{"([a-z-]+)"'),
    "suggest.": ("engine/study/suggest.cpp", r'kind_of\(\s*job, "([a-z-]+)"'),
    "dimension.": ("catalog/files/inspection_checks.cpp", r'\badd\("([a-z-]+)"'),
    "recall.used-": ("catalog/book/records.cpp", r'\.by = "([a-z-]+)"'),
    "rating.method-": ("engine/rating/rate.cpp", r'method == Method::time \? ("\w+" : "\w+")'),
    "modes.on-": ("app/cli/frame_command.cpp", r'\badd\("(\w+)"'),
    "view.": ("reports", r'(?:add_views\([^;]*?|for \(const char\* view : )\{("[a-z]+"(?:, "[a-z]+")*)\}'),
    "state.": ("reports", r'State\{"([\w-]+)"'),
}
for family, (place, pattern) in families.items():
    files = sorted((root / place).rglob("*.cpp")) or [root / place]
    names = {name for f in files for m in re.finditer(pattern, f.read_text(encoding="utf-8"))
             for words in m.groups() if words for name in re.findall(r"[\w-]+", words)}
    assert names, f"the names of {family} are looked for in the wrong place"
    faults += [f"{place}: no sentence for {family}{name}" for name in sorted(names) if family + name not in sentences]

# Arguments given where a message is made in one piece.
made = re.compile(r'\{"([a-z]+(?:-[a-z]+)*\.[a-z0-9_-]+)",\s*\{((?:(?:number|text|sentence_argument)\((?:[^()]|\((?:[^()]|\([^()]*\))*\))*\),?\s*)+)\}')
checked = 0
for top in ("engine", "catalog", "reports", "app"):
    for path in (root / top).rglob("*.cpp"):
        for key, arguments in made.findall(path.read_text(encoding="utf-8")):
            if key in sentences:
                given = set(re.findall(r'(?:number|text|sentence_argument)\("([a-z_0-9]+)"', arguments))
                missing = set(re.findall(r"\{(\w+)\}", sentences[key])) - given - {"file", "line"}
                checked += 1
                if missing and given:
                    faults.append(f"{path}: {key} lacks {', '.join(sorted(missing))}")
assert len(used) > 80 and checked > 30, "the test looks in the wrong place"
print("\n".join(faults))
sys.exit(1 if faults else 0)
