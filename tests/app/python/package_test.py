# SPDX-License-Identifier: GPL-3.0-or-later
"""The package of Python: what it gives is what the command line says, arrays are not copied, threads go on, hostile input is a Fault."""
import ast
import gc
import json
import math
import os
import pathlib
import subprocess
import sys
import threading
import time

import numpy
import pytest
import seamwright

source = pathlib.Path(os.environ["SEAMWRIGHT_SOURCE"])
job_folder = source / "catalog/examples/orchard-trike"


@pytest.fixture(scope="module")
def rating():
    return seamwright.rate(seamwright.read_job(job_folder, equations=True), method="spectral")


def said(*command):
    done = subprocess.run([os.environ["SEAMWRIGHT"], *map(str, command), "--json"], capture_output=True, text=True)
    assert done.returncode in (0, 1), done.stderr
    return json.loads(done.stdout)


def same(found, told):
    return told is None and not math.isfinite(found) if told is None else found == told


def test_rating_is_the_command_lines(rating):
    told = said("rate", job_folder, "--method", "spectral", "--equations")
    assert rating.verdict == told["verdict"]
    assert [w.id for w in rating.welds] == [w["id"] for w in told["welds"]]
    for weld, other in zip(rating.welds, told["welds"]):
        assert [s.site for s in weld.sites] == [s["site"] for s in other["sites"]]
        assert weld.verdict == other["verdict"]
        for site, row in zip(weld.sites, other["sites"]):
            for name in ("damage", "damage_unfactored", "allowed_damage", "life_km_predicted"):
                assert same(getattr(site, name), row[name]), (weld.id, site.site, name)


def test_ranges_of_every_site_sum_to_its_damage(rating):
    assert sorted((r.weld, r.site) for r in rating.ranges) == sorted((w.id, s.site) for w in rating.welds for s in w.sites)
    assert len(seamwright.range_bounds_mpa()) == len(rating.ranges[0].cycles) + 1
    damaged = [r for r in rating.ranges if r.damage.sum() > 0]
    assert damaged and all((r.cycles >= 0).all() and (r.damage >= 0).all() for r in damaged)


def test_arrays_are_views_that_outlive_their_parents():
    whole = seamwright.rate(seamwright.read_job(job_folder, equations=True), method="spectral")
    share, again = whole.welds[0].sites[0].damage_share, whole.welds[0].sites[0].damage_share
    assert share.base is not None and numpy.shares_memory(share, again)
    with pytest.raises(ValueError):
        share[0] = 1
    kept, weld = share.copy(), whole.welds[0]
    identity, cycles = weld.id, whole.ranges[0].cycles
    seen = cycles.copy()
    del whole, again
    gc.collect()
    assert (share == kept).all() and weld.id == identity and (cycles == seen).all()


def test_other_threads_go_on_meanwhile():
    job = seamwright.read_job(job_folder, equations=True)
    worker = threading.Thread(target=seamwright.rate, args=(job,), kwargs={"method": "spectral"})
    worker.start()
    turns = 0
    while worker.is_alive():
        time.sleep(0.001)
        turns += 1
    assert turns > 20  # a rating takes tenths of a second; an interpreter that is held leaves one turn or two


def test_what_progress_raises_ends_the_work():
    def refuse(share):
        raise KeyError(share)

    with pytest.raises(KeyError):
        seamwright.influences(seamwright.read_job(job_folder, equations=True), progress=refuse)


def test_a_fault_says_its_place(tmp_path):
    with pytest.raises(seamwright.Fault) as missing:
        seamwright.rate(tmp_path / "nowhere")
    assert missing.value.category == "input" and "nowhere" in missing.value.file and str(missing.value)
    (tmp_path / "design.toml").write_text((job_folder / "design.toml").read_text().replace("wall_mm = 3", "wall_mm = 3e99", 1))
    (tmp_path / "duty.toml").write_text((job_folder / "duty.toml").read_text())
    with pytest.raises(seamwright.Fault) as huge:
        seamwright.read_job(tmp_path)
    assert huge.value.line > 0 and huge.value.key and huge.value.file.endswith("design.toml")


def test_a_fault_speaks_the_users_language(tmp_path, monkeypatch):
    monkeypatch.setenv("LC_ALL", "de_DE.UTF-8")
    with pytest.raises(seamwright.Fault) as german:
        seamwright.read_tests(tmp_path / "fehlt.csv")
    monkeypatch.setenv("LC_ALL", "en_GB.UTF-8")
    with pytest.raises(seamwright.Fault) as english:
        seamwright.read_tests(tmp_path / "fehlt.csv")
    assert str(german.value) != str(english.value) and german.value.id == english.value.id


@pytest.mark.parametrize("wrong", [None, 3, 1e308, [], {}, object(), "a\0b", b"\xff\xfe", "", "/dev/null"])
def test_hostile_arguments_are_refused(wrong):
    for function in (seamwright.rate, seamwright.read_job, seamwright.Book, seamwright.read_tests, seamwright.read_recording):
        with pytest.raises((seamwright.Fault, TypeError, ValueError)):
            function(wrong)


def test_hostile_numbers_and_files_are_refused(tmp_path):
    (tmp_path / "design.toml").write_text("")
    (tmp_path / "text.book").write_text("this is no book\n" * 300)
    for call in (lambda: seamwright.rate(tmp_path), lambda: seamwright.Book(tmp_path / "text.book"),
                 lambda: seamwright.fit([seamwright.Test(1e308, -1)] * 5), lambda: seamwright.fit([]),
                 lambda: seamwright.figure("no-such"), lambda: seamwright.rate(job_folder, weld="no-such"),
                 lambda: seamwright.read_job(job_folder, design_changes={"tube[spine].wall_mm": 1e300})):
        with pytest.raises(seamwright.Fault):
            call()
    for call in (lambda: seamwright.rate(job_folder, method="guess"), lambda: seamwright.read_job(job_folder, rules="none")):
        with pytest.raises(ValueError):
            call()


def test_studies_are_the_command_lines():
    job = seamwright.read_job(job_folder, equations=True)
    told = said("compare", job_folder, source / "catalog/examples/orchard-trike-b", "--equations")
    pair = seamwright.compare(job, seamwright.read_job(source / "catalog/examples/orchard-trike-b", equations=True))
    assert {w.weld: w.ratio for w in pair.welds.welds if math.isfinite(w.ratio)} == \
        {w["id"]: w["ratio"] for w in told["welds"] if w.get("ratio") is not None}
    assert seamwright.figure("miner", curve="F", rules="dnv", spectrum="1000000@40,500000@60").values[0].value == \
        pytest.approx(0.2339, abs=5e-5)  # worked out by hand in docs/example/life.cpp


def test_book_is_what_the_command_line_wrote(tmp_path):
    made = subprocess.run([os.environ["SEAMWRIGHT"], "demo", str(tmp_path / "demo")], capture_output=True, text=True)
    assert made.returncode == 0, made.stderr
    path = next(path for path in (tmp_path / "demo").rglob("*") if path.suffix in (".book", ".swbook", ".sqlite"))
    book = seamwright.Book(path)
    verified = book.verify()
    assert verified.problems == [] and verified.entries > 0 and verified.head == book.head
    serial = book.frames()[0]
    assert book.trace(serial).serial == serial and book.trace(serial).own
    assert isinstance(book.trace(serial).own[0].content, dict)
    assert all(seamwright.sentence(gap.what) for gap in book.gaps(serial, "2026-11-26"))


def test_stub_has_the_modules_names():
    stub = ast.parse((pathlib.Path(seamwright.__file__).parent / "__init__.pyi").read_text())
    names = {node.name: node for node in stub.body if isinstance(node, (ast.ClassDef, ast.FunctionDef))}
    assert set(names) == set(seamwright.__all__)
    for name, node in names.items():
        if isinstance(node, ast.ClassDef) and not issubclass(getattr(seamwright, name), BaseException):
            told = {part.name for part in node.body if isinstance(part, ast.FunctionDef) and part.name[0] != "_"}
            assert told == {part for part in vars(getattr(seamwright, name)) if part[0] != "_"}, name


def example(name, *arguments):
    done = subprocess.run([sys.executable, "-B", source / "docs/example/python" / name, *arguments], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()


def test_examples_make_sense(rating):
    masses = [float(line.split()[2]) for line in example("parameter_study.py", job_folder)]
    assert len(masses) == 3 and masses == sorted(masses) and masses[0] < masses[2]  # a thicker wall is heavier
    # The tests of the example lie about N = 10^12 / S^3, whose scatter sums to nothing; S at two million cycles is (10^12 / 2e6)^(1/3).
    curve, strength = example("own_tests.py")[:2]
    assert curve.startswith("slope 3.000, log a 12.000") and f"mean {(1e12 / 2e6) ** (1 / 3):.1f} MPa" in strength
    report = example("own_report.py", job_folder)
    assert f"{len(rating.welds)} welds" in report[0] and len(report) > 10
