# SPDX-License-Identifier: GPL-3.0-or-later
"""Pages and sheets in German: german_test.py PROGRAM ROOT. No word is another language's but keys, ids, symbols, and the names that
the demonstration itself brings."""
import os
import pathlib
import re
import shlex
import subprocess
import sys
import tempfile

sys.dont_write_bytecode = True
program, root = str(pathlib.Path(sys.argv[1]).resolve()), pathlib.Path(sys.argv[2]).resolve()
sys.path.insert(0, str(root / "tests"))
import spelling  # noqa: E402

PAGES = """
rate trike --equations --full
rate trike --equations --weld W32.L --explain
stability trike
procedure check trike/procedures/bracket.toml
procedure check trike/procedures/tig-branch.toml --weld W33 --certificate A-1
welders trike
solve trike --case payload
modes trike
figure --list
figure carbon-equivalents C=0.25 Mn=0.7 Cr=1 Mo=0.2
figure cooling-time heat_kj_mm=0.3 thickness_mm=2
figure peak-hardness C=0.25 Mn=0.7 Cr=1 Mo=0.2 cooling_s=3
figure sn-life curve=T rules=dnv environment=air range_mpa=80
catalog curves
catalog details
catalog joint-kinds
catalog roads
catalog rigs
catalog steels
trace OT-0001 --book shop.book --full
gaps OT-0002 --book shop.book
book verify shop.book
book log shop.book
book quality shop.book
sheet procedure trike --weld W33 --out a.html
sheet weld-map trike --out a.html
sheet welders trike --out a.html
sheet stability trike --out a.html
sheet assembly trike --out a.html
sheet cut-list trike --out a.html
sheet frame OT-0001 --book shop.book --out a.html
"""
# These take long, and come by night.
SLOW_PAGES = """
rate trike-b --equations --throats
compare trike trike-b --equations --full
suggest trike --weld W32.L --equations
testplan trike --equations
inspect trike --measured trike/measured.csv
rig trike
gauges trike
calibrate trike --returns trike/returns.toml
joint trike W33
peaks trike
sheet rating trike --equations --out a.html
sheet owner trike --equations --out a.html
sheet inspection trike --equations --out a.html
shape trike
sheet drawing trike --weld W33 --out a.html
sheet fixture trike --out a.html
"""
# Names of persons and places in the demonstration, clauses of sources, and what the trade writes so in any language.
ITS_OWN = root / "tests/app/german_words.txt"


def visible(html):
    html = re.sub(r"<(style|script).*?</\1>", " ", html, flags=re.S)
    return re.sub(r"<[^>]*>", " ", html)


night = "--renew" in sys.argv or "SEAMWRIGHT_NIGHT" in os.environ
faults, seen = [], {}
with tempfile.TemporaryDirectory() as folder:
    environment = {**os.environ, "LC_ALL": "de_DE.UTF-8"}
    subprocess.run([program, "demo", "."], cwd=folder, capture_output=True, check=True, env=environment)
    own = set()
    for file in pathlib.Path(folder).rglob("*.toml"):
        own |= spelling.names_in(file.read_text(encoding="utf-8"))
    pages = PAGES.strip().split("\n") + (SLOW_PAGES.strip().split("\n") if night else [])
    for page in pages:
        done = subprocess.run([program, *shlex.split(page)], cwd=folder, capture_output=True, text=True, env=environment)
        if done.returncode > 1:
            faults.append(f"{page}: exit {done.returncode}\n{done.stderr[-300:]}")
        text = done.stdout + done.stderr
        if "--out" in page:
            written = pathlib.Path(folder, "a.html")
            text += visible(written.read_text(encoding="utf-8")) if written.exists() else ""
            written.unlink(missing_ok=True)
        for word in spelling.words_in([text]):
            seen.setdefault(word, page)
words = set(seen) - own
strange = spelling.unknown(words, "german") - spelling.allowed("german")
if "--renew" in sys.argv:
    ITS_OWN.write_text("\n".join(sorted(strange, key=lambda w: (w.lower(), w))) + "\n", encoding="utf-8")
    sys.exit(0)
allowed = set(ITS_OWN.read_text(encoding="utf-8").split())
faults += [f"{seen[word]}: '{word}' is no German" for word in sorted(strange - allowed)]
assert len(seen) > 1500, "the pages say little"
print("\n".join(faults) or f"{len(seen)} words on {len(pages)} pages are German, or names")
sys.exit(1 if faults else 0)
