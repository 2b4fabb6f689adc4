# SPDX-License-Identifier: GPL-3.0-or-later
"""The commands of README and docs/guide do what these pages say: guide_test.py PROGRAM ROOT. Each page's commands run in order in a fresh folder
into which `demo` has written its workshop, unless the page does so itself. Lines below a command are looked up in its output, in their order; … stands for what is left out. With
--renew a line that is not found is replaced by the one that is most like it, and the exit code by what it is."""
import difflib
import pathlib
import re
import shlex
import subprocess
import sys
import tempfile

program, root = sys.argv[1], pathlib.Path(sys.argv[2])
renew = "--renew" in sys.argv
faults, tried = [], 0


def squeezed(text):
    return re.sub(r"\s+", " ", text).strip()


def commands(page):
    for block in re.findall(r"(?m)^```\n(.*?)^```", page, re.S):
        for part in re.split(r"(?m)^\$ ", block)[1:]:
            head, *lines = part.splitlines()
            command, _, comment = head.partition("  # ")
            yield command, int(comment.removeprefix("exit ") or 0), [line for line in lines if line.strip()]


def most_like(wanted, lines):
    """The line of an output that a changed number made of the one wanted; its parts around … are kept apart."""
    return max(lines, key=lambda line: difflib.SequenceMatcher(None, wanted, line, autojunk=False).ratio(), default=wanted)


def renewed(text, command, done, missing):
    """The page's text with the lines that the command did not say replaced, and its exit code."""
    output = [line.strip() for line in (done.stdout + done.stderr).splitlines() if line.strip()]
    at = text.index("$ " + command)
    for line in missing:
        found = text.index(line, at)
        text = text[:found] + most_like(line, output) + text[found + len(line):]
    end = text.index("\n", at)
    return text[:at] + "$ " + command + (f"  # exit {done.returncode}" if done.returncode else "") + text[end:]


for path in [root / "README.md", *sorted((root / "docs/guide").glob("*.md"))]:
    with tempfile.TemporaryDirectory() as folder:
        text = path.read_text(encoding="utf-8")
        if "$ seamwright demo" not in text:
            subprocess.run([program, "demo", "."], cwd=folder, capture_output=True, check=True)
        for command, exit_code, lines in commands(text):
            words = shlex.split(command)
            if words[0] != "seamwright":
                faults.append(f"{path.name}: not a command of ours: {command}")
                continue
            tried += 1
            done = subprocess.run([program, *words[1:]], cwd=folder, capture_output=True, text=True)
            output, place, missing = squeezed(done.stdout + done.stderr), 0, []
            if done.returncode != exit_code:
                faults.append(f"{path.name}: exit {done.returncode}, not {exit_code}: {command}\n{done.stderr[-500:]}")
            for line, piece in ((line, squeezed(p)) for line in lines for p in line.split("…")):
                found = output.find(piece, place)
                if found < 0:
                    missing.append(line)
                    faults.append(f"{path.name}: {command} does not say: {piece}")
                else:
                    place = found + len(piece)
            if renew and (missing or done.returncode != exit_code):
                text = renewed(text, command, done, dict.fromkeys(missing))
        if renew:
            path.write_text(text, encoding="utf-8")
assert tried > 15, tried
print("\n".join(faults) or f"{tried} commands do as the guide says")
sys.exit(1 if faults and not renew else 0)
