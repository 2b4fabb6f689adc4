# SPDX-License-Identifier: GPL-3.0-or-later
"""Manual page and completions name the same commands and options as --help does."""
import pathlib
import re
import subprocess
import sys

program, made = sys.argv[1], pathlib.Path(sys.argv[2])
man = (made / "seamwright.1").read_text(encoding="utf-8").replace("\\-", "-")
bash = (made / "seamwright").read_text(encoding="utf-8")
zsh = (made / "_seamwright").read_text(encoding="utf-8")
subprocess.run(["bash", "-n", made / "seamwright"], check=True)


def help_of(path):
    return subprocess.run([program, *path, "--help"], check=True, capture_output=True, text=True).stdout


def commands(path=()):
    text = help_of(path)
    yield path, set(re.findall(r"(?m)^ +(?:-\w,)?(--[a-z-]+)", text))
    listed = text.split("\nSubcommands:\n")
    if len(listed) > 1:
        for name in re.findall(r"(?m)^  ([a-z-]+)", listed[1]):
            yield from commands((*path, name))


found = 0
for path, flags in commands():
    name = " ".join(path)
    words = re.search(rf'(?m)^      "{" " + name if name else ""}"\) words="([^"]*)"', bash)
    assert words, f"bash knows no {name}"
    assert flags == {w for w in words[1].split() if w.startswith("--")}, (name, flags, words[1])
    function = re.search(rf"(?ms)^_seamwright{''.join('_' + p for p in path)}\(\) {{\n(.*?)^}}", zsh)
    assert function, f"zsh knows no {name}"
    assert flags == set(re.findall(r"'(--[a-z-]+)\[", function[1])), (name, flags)
    if path:
        head = re.search(rf"(?m)^\.SS {re.escape(name)}(?: |$)", man)
        assert head, f"the manual has no {name}"
        section = man[head.end():].split("\n.SS ")[0].split("\n.SH ")[0]
        assert flags == set(re.findall(r"(?m)^\.B (--[a-z-]+)", section)), (name, flags)
    found += 1
assert found > 40, found
print(f"{found} commands")
