# SPDX-License-Identifier: GPL-3.0-or-later
"""Every message id that the sources name has its sentence, with the arguments that are given; no sentence is left unused."""
import pathlib
import re
import sys

root = pathlib.Path(sys.argv[1])
entry = re.compile(r'\{"([a-z]+\.[a-z0-9-]+)",\s*"((?:[^"\\]|\\.)*)",\s*"((?:[^"\\]|\\.)*)"\}')
sentences = {}
for path in (root / "reports/text/sentences").glob("*.cpp"):
    for key, english, german in entry.findall(path.read_text(encoding="utf-8")):
        assert key not in sentences, f"{key} stands twice"
        sentences[key] = english
prefixes = {key.split(".")[0] for key in sentences}

used, composed = {}, set()
for top in ("engine", "catalog", "reports", "app"):
    for path in [*(root / top).rglob("*.cpp"), *(root / top).rglob("*.h")]:
        if "sentences" in path.parts:
            continue
        text = path.read_text(encoding="utf-8")
        for key in re.findall(r'"([a-z]+\.[a-z0-9-]*)"', text):
            if key.split(".")[0] in prefixes:
                (composed.add(key) if key.endswith(("-", ".")) else used.setdefault(key, path))

faults = [f"{path}: no sentence for {key}" for key, path in sorted(used.items()) if key not in sentences]
faults += [f"sentence {key} is used nowhere" for key in sorted(sentences)
           if key not in used and not any(key.startswith(c) for c in composed)]

# Arguments given where a message is made in one piece.
made = re.compile(r'\{"([a-z]+\.[a-z0-9-]+)",\s*\{((?:(?:number|text|word)\((?:[^()]|\((?:[^()]|\([^()]*\))*\))*\),?\s*)+)\}')
checked = 0
for top in ("engine", "catalog", "reports", "app"):
    for path in (root / top).rglob("*.cpp"):
        for key, arguments in made.findall(path.read_text(encoding="utf-8")):
            if key in sentences:
                given = set(re.findall(r'(?:number|text|word)\("([a-z_0-9]+)"', arguments))
                missing = set(re.findall(r"\{(\w+)\}", sentences[key])) - given - {"file", "line"}
                checked += 1
                if missing and given:
                    faults.append(f"{path}: {key} lacks {', '.join(sorted(missing))}")
assert len(used) > 80 and checked > 30, "the test looks in the wrong place"
print("\n".join(faults))
sys.exit(1 if faults else 0)
