# SPDX-License-Identifier: GPL-3.0-or-later
"""same.py OLD NEW ROOT: whether two programs say the same of the demonstration, byte for byte: tables, JSON, HTML, CSV and what PDFs show
(words and their boxes). For a change that is to move code and not results. Prints what differs; exits with 1 where something does."""
import concurrent.futures
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

JOB = "trike"
SETS = ("dnv", "en1993", "iiw")
COMMANDS = [
    *(f"rate {JOB} --method spectral --rules {s} --json" for s in SETS),
    *(f"--language de rate {JOB} --method spectral --rules {s} --html out.html --csv out.csv" for s in SETS),
    f"rate {JOB} --method spectral --rules all",
    f"rate {JOB} --method spectral --weld W33 --explain --pdf out.pdf",
    f"rate {JOB} --json",
    f"rate {JOB} --method both --weld W16",
    f"rate {JOB} --method spectral --joints both",
    f"rate {JOB} --method spectral --throats",
    f"solve {JOB} --json", f"modes {JOB}", f"deck {JOB} --out out.inp", f"stability {JOB} --html out.html", f"peaks {JOB} --json",
    f"rig {JOB}", f"gauges {JOB}", f"suggest {JOB} --weld W27 --method spectral", "new begun", f"compare {JOB} begun --method spectral",
    f"welders {JOB} --pdf out.pdf", f"sheet rating {JOB} --out out.pdf", f"sheet inspection {JOB} --out out.pdf",
    f"sheet weld-map {JOB} --out out.pdf", f"sheet stability {JOB} --out out.html", f"plot life {JOB} --out out.svg",
    f"plot sn {JOB} --weld W16 --out out.svg", f"plot tip {JOB} --out out.svg", f"plot joint {JOB} --weld W33 --out out.svg",
    f"procedure check {JOB}/procedures/tig-branch.toml --weld W33 --certificate A-1 --pdf out.pdf",
    f"sheet procedure {JOB}/procedures/tig-branch.toml --out out.pdf", f"inspect {JOB} --measured {JOB}/measured.csv --pdf out.pdf",
    f"calibrate {JOB} --returns {JOB}/returns.toml", "figure --list",
    "catalog", "catalog curves", "catalog details", "catalog joint-kinds tube-tee --html out.html",
    "rate nothing", f"rate {JOB} --weld W999", f"rate {JOB} --method guess", "figure nothing",
]


def words_of(pdf):
    boxes = subprocess.run(["pdftotext", "-bbox", pdf, "-"], capture_output=True, text=True, check=True).stdout
    return re.sub(r'<meta name="(CreationDate|ModDate)"[^>]*>', "", boxes)


def said(program, root, command):
    """Everything that a command leaves behind: exit code, both streams, and each file."""
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        shutil.copytree(root / "catalog/examples/orchard-trike", folder / JOB)
        if "begun" in command and not command.startswith("new"):
            subprocess.run([program, "new", "begun"], cwd=folder, capture_output=True, check=True)
        done = subprocess.run([program, *command.split()], cwd=folder, capture_output=True)
        left = {"exit": done.returncode, "out": done.stdout, "err": done.stderr}
        for path in sorted(folder.rglob("*")):
            if path.is_file() and JOB not in path.relative_to(folder).parts:
                left[str(path.relative_to(folder))] = words_of(path) if path.suffix == ".pdf" else path.read_bytes()
        return left


def main(old, new, root):
    old, new = pathlib.Path(old).resolve(), pathlib.Path(new).resolve()  # each command runs in a folder of its own
    differ = 0
    with concurrent.futures.ThreadPoolExecutor(2) as pool:
        pairs = [(c, pool.submit(said, old, root, c), pool.submit(said, new, root, c)) for c in COMMANDS]
        for command, before, after in pairs:
            a, b = before.result(), after.result()
            others = [key for key in sorted({*a, *b}) if a.get(key) != b.get(key)]
            differ += bool(others)
            size = sum(len(v) for v in a.values() if not isinstance(v, int))
            what = ", ".join(others) or f"{size} bytes, exit {a['exit']}"
            print("DIFFERS" if others else "same   ", f"{command}: {what}", flush=True)
    print(f"{len(COMMANDS) - differ} of {len(COMMANDS)} the same")
    return 1 if differ else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2], pathlib.Path(sys.argv[3])))
