# SPDX-License-Identifier: GPL-3.0-or-later
"""The commands of README and docs/guide do what these pages say: guide_test.py PROGRAM ROOT. Each page's commands run in order in a folder of its own
with the workshop that `demo` writes. Lines below a command are looked up in its output, in their order; … stands for what is left out. With
--renew a line that is not found is replaced by the one that is most like it, and the exit code by what it is.
A page in another language (welder.de.md) is held to the program in that language. By day it leaves out the commands that rate a frame, which the
English page runs already, and those that show nothing; --renew and --all run every command. tests/house/guides_test.py holds it to the English page."""
import difflib
import os
import pathlib
import re
import shlex
import shutil
import subprocess
import sys
import tempfile

program, root = sys.argv[1], pathlib.Path(sys.argv[2])
renew, all_commands = "--renew" in sys.argv, {"--renew", "--all"} & set(sys.argv)
rating = {"new", "rate", "suggest", "influence", "compare", "testplan", "inspect"}
faults, tried = [], {}


def squeezed(text):
    return re.sub(r"\s+", " ", text).strip()


def language_of(path):
    """en, or de of welder.de.md."""
    return path.suffixes[0][1:] if len(path.suffixes) > 1 else "en"


def ran(words, folder, code):
    language = {**os.environ, "LC_ALL": f"{code}.UTF-8" if code != "en" else "C.UTF-8"}
    return subprocess.run([program, *words], cwd=folder, capture_output=True, encoding="utf-8", env=language)


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


def try_command(path, text, folder, command, exit_code, lines):
    """The page's text after one of its commands: as it was, unless renewed."""
    code = language_of(path)
    tried[code] = tried.get(code, 0) + 1
    done = ran(shlex.split(command)[1:], folder, code)
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
    changed = renew and (missing or done.returncode != exit_code)
    return renewed(text, command, done, dict.fromkeys(missing)) if changed else text


def try_page(path, folder):
    text = path.read_text(encoding="utf-8")
    for command, exit_code, lines in commands(text):
        words = shlex.split(command)
        if words[0] != "seamwright":
            faults.append(f"{path.name}: not a command of ours: {command}")
        elif language_of(path) == "en" or all_commands or (lines and words[1] not in rating):
            text = try_command(path, text, folder, command, exit_code, lines)
    if renew:
        path.write_text(text, encoding="utf-8")


pages = [root / "README.md", *sorted((root / "docs/guide").glob("*.md"))]
makes = [path for path in pages if "$ seamwright demo" in path.read_text(encoding="utf-8")]
with tempfile.TemporaryDirectory() as kept:
    workshops = {code: pathlib.Path(kept) / code for code in map(language_of, pages)}  # each language has its own
    for path in makes + [path for path in pages if path not in makes]:
        with tempfile.TemporaryDirectory() as folder:
            if path not in makes:
                shutil.copytree(workshops[language_of(path)], folder, dirs_exist_ok=True)
            try_page(path, folder)
            if path.parent == root / "docs/guide" and path.name.startswith("README."):  # its only command is the one that makes the workshop
                shutil.copytree(folder, workshops[language_of(path)])
assert tried["en"] > 15 and tried["de"] > 8, tried
print("\n".join(faults) or f"{sum(tried.values())} commands do as the guide says")
sys.exit(1 if faults and not renew else 0)
