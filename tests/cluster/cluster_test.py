# SPDX-License-Identifier: GPL-3.0-or-later
"""The array job of docs/cluster.md on a real Slurm of one node: tasks are killed and requeued, and the joined table is that of one machine.

cluster_test.py PROGRAM ROOT PARTS KILLED [STEPS]: of the demonstration's variants, or of 6 times STEPS of them.
"""
import os
import pathlib
import re
import shutil
import signal
import subprocess
import sys
import tempfile
import time

from one_node import OneNode

program, root, parts, killed = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2]), int(sys.argv[3]), int(sys.argv[4])


def fail(what):
    print(f"FAILED: {what}", file=sys.stderr)
    sys.exit(1)


def script():
    """The first block of the document, with as many parts as asked for."""
    block = re.search(r"```sh\n(#!/bin/sh\n.*?)```", (root / "docs/cluster.md").read_text(encoding="utf-8"), re.S).group(1)
    text = block.replace("--array=1-20", f"--array=1-{parts}").replace("parts=20", f"parts={parts}")
    if parts != 20 and text == block:
        fail("the document's script has no 20 parts")
    return text


def rows(path):
    return len(path.read_text(encoding="utf-8").splitlines()) - 1 if path.exists() else 0


def kill_one(job, done):
    """Kills the process of a part that has done something and is not through; its number."""
    end = time.monotonic() + 120
    while time.monotonic() < end:
        for part in range(1, parts + 1):
            if part not in done and rows(job / f"part-{part}.csv.part") > 0:
                found = subprocess.run(["pgrep", "-f", f"part-{part}.csv --part {part}/{parts}"], capture_output=True, text=True).stdout.split()
                if found:
                    os.kill(int(found[0]), signal.SIGKILL)
                    return part
        time.sleep(0.05)
    fail("no part could be killed while it ran")


with tempfile.TemporaryDirectory(prefix="seamwright-cluster-") as folder, OneNode() as slurm:
    job = pathlib.Path(folder) / "job"
    shutil.copytree(root / "catalog/examples/orchard-trike", job)
    if len(sys.argv) > 5:
        sweep = job / "walls.sweep.toml"
        sweep.write_text(sweep.read_text(encoding="utf-8").replace("steps = 3", f"steps = {sys.argv[5]}"), encoding="utf-8")
    (job / "variants.sh").write_text(script(), encoding="utf-8")
    slurm.environment["PATH"] = f"{program.parent}:{os.environ['PATH']}"

    def submit():
        return slurm.run("sbatch", "--parsable", "variants.sh", cwd=job).strip()

    def waiting():
        return slurm.run("squeue", "-h", "-o", "%T")

    begun = time.monotonic()
    array = submit()
    lost = set()
    for _ in range(killed):
        lost.add(kill_one(job, lost))
    if killed > 1:  # one more goes back to the queue, and goes on by itself
        def running():
            lines = slurm.run("squeue", "-h", "-t", "R", "-o", "%K %i").splitlines()
            return [number for part, number in map(str.split, lines) if int(part) not in lost and rows(job / f"part-{part}.csv.part") > 0]

        other = []
        slurm.wait_for(lambda: other.extend(running()) or other, "other part that runs")
        slurm.run("scontrol", "requeue", other[0])
    slurm.wait_for(lambda: not waiting(), "end of the array", 3600)
    missing = {part for part in range(1, parts + 1) if not (job / f"part-{part}.csv").exists()}
    if missing != lost:
        fail(f"parts {sorted(missing)} are missing, {sorted(lost)} were killed")
    before = {part: rows(job / f"part-{part}.csv.part") for part in lost}
    if lost and min(before.values()) < 1:
        fail("a killed part lost what was done")
    submit()
    slurm.wait_for(lambda: not waiting(), "end of the second array", 3600)
    seconds = time.monotonic() - begun
    tables = sorted(str(p) for p in job.glob("part-*.csv"))
    if len(tables) != parts or list(job.glob("*.part")):
        fail(f"{len(tables)} of {parts} parts, or a journal is left")
    subprocess.run([program, "sweep", "--join", *tables, "--csv", job / "variants.csv"], check=True, stdout=subprocess.DEVNULL)
    subprocess.run([program, "sweep", job / "walls.sweep.toml", "--csv", job / "alone.csv", "--yes"], check=True, stdout=subprocess.DEVNULL)
    if (job / "variants.csv").read_bytes() != (job / "alone.csv").read_bytes():
        fail("the joined table is not that of one machine")
    print(f"{rows(job / 'variants.csv')} variants in {parts} parts, {len(lost)} killed: {seconds:.0f} s by Slurm on {os.cpu_count()} processors")
