# SPDX-License-Identifier: GPL-3.0-or-later
"""Constants and signs of the engine, changed one at a time in a copy of the tree: the tests must fail each time.

mutants.py ROOT FOLDER [FILE]: copies ROOT into FOLDER, builds there, and changes in turn the last digit of every number in the files
of published formulas (or of FILE alone) and each of the signs and comparisons listed here. What passes unseen is printed and ends
with exit 1. tests/run night calls it. The published tables have a test of their own: tests/catalog/published/constants_test.cpp.
"""
import pathlib
import re
import shutil
import subprocess
import sys

# Files of published formulas and the tests that hold them.
FORMULAS = {
    "engine/joints/equations.cpp": "test_published_joints",
    "engine/joints/xk.cpp": "test_published_joints",
    "engine/joints/rectangular.cpp": "test_published_joints",
    "engine/joints/flexibility.cpp": "test_published_joints",
    "engine/joints/resistance.cpp": "test_published_joints",
    "engine/joints/weld_strength.cpp": "test_published_joints",
    "engine/joints/notch.cpp": "test_published_joints",
    "engine/joints/bolt.cpp": "test_published_joints",
    "engine/procedure/carbon.cpp": "test_published_procedure",
    "engine/procedure/heat.cpp": "test_published_procedure",
    "engine/procedure/hardness.cpp": "test_published_procedure",
    "engine/rules/dnv.cpp": "test_published_rules",
    "engine/rules/en1993.cpp": "test_published_rules",
    "engine/rules/iiw.cpp": "test_published_rules",
    "engine/rules/plate_surface.cpp": "test_published_rules",
    "engine/fatigue/growth.cpp": "test_published_fatigue",
    "engine/cycles/spectral.cpp": "test_published_cycles",
    "engine/frame/slender.cpp": "test_published_frame",
}
EVERYWHERE = ["test_formulas", "test_thresholds"]  # the formulas typed a second time, and their bounds

# Numbers in those files that nothing outside gives: guards against rounding and nonsense, steps of the arithmetic.
OURS = {
    "engine/joints/xk.cpp": ["? a : 0.0", "std::max(0.0, both)", "< 1e-6"],
    "engine/joints/rectangular.cpp": ["x < 1e5", "1 + 1e-9"],
    "engine/joints/flexibility.cpp": [", 90)"],  # beyond, there is no joint
    "engine/joints/resistance.cpp": [", 90)", "std::min(1.0, 1 -"],
    "engine/joints/notch.cpp": ["std::array<std::array<double, 3>, 4>"],
    "engine/procedure/heat.cpp": ["x < 1e9"],
    "engine/procedure/hardness.cpp": ["seconds < 1e6"],
    "engine/fatigue/growth.cpp": ["b < 1e6", "range < 1e5", "gauss_kronrod<double, 31>", "std::log(b), 10", "1e-10"],
    "engine/cycles/spectral.cpp": [
        "still_mpa2 = 1e-6", "inequality_slack = 1e-5", "narrow_dirlik = 1e-4", "narrow_tovo = 1e-6", "std::array<Part, 3>", "{0, 1, 2, 4, 8, 14}",
        "{0, 1, 3, 8, 20, 100}", "gauss_kronrod<double, 31>", "edges[i], 8, 1e-9", "std::min(1.0,", "d.d1 >= 1e-9", "std::max(0.0, 1 -", "0.0, 1.0)", "law.slope <= 50"],
    "engine/frame/slender.cpp": ["std::min(1.0,"],
    # What a curve that gives no scatter is taken for is an assumption of this project.
    "engine/rules/dnv.cpp": [".scatter_log_n = 0.25"],
    "engine/rules/en1993.cpp": [".scatter_log_n = 0.25"],
    "engine/rules/iiw.cpp": [".scatter_log_n = 0.25"],
}

# Signs and comparisons: file, what stands there once, what it becomes, the tests that must see it.
SIGNS = [
    ("engine/joints/equations.cpp", "(1.11 - 3 * std::pow(r.beta - 0.52, 2))", "(1.11 + 3 * std::pow(r.beta - 0.52, 2))", "test_published_joints"),
    ("engine/frame/element.cpp", "(4 + phi) * c", "(4 - phi) * c", "test_published_frame"),
    ("engine/frame/element.cpp", "-12 * c, 6 * c * l, (4", "-12 * c, -6 * c * l, (4", "test_published_frame"),
    ("engine/fatigue/curve.cpp", "segment.log_a - segment.slope * std::log10(range_mpa)", "segment.log_a + segment.slope * std::log10(range_mpa)",
     "test_published_fatigue"),
    ("engine/fatigue/curve.cpp", "s.slope * std::log10(stress_factor) - s.log_a", "-s.slope * std::log10(stress_factor) - s.log_a", "test_published_fatigue"),
    ("engine/loads/stability.cpp", "(s.centre_mm.x() - s.rear_mm[0]) / s.centre_mm.z()", "(s.centre_mm.x() + s.rear_mm[0] + 1) / s.centre_mm.z()",
     "test_published_loads"),
    ("engine/loads/road.cpp", "1 / (ratio * ratio)", "1 / ratio", "test_published_loads"),
    ("engine/procedure/heat.cpp", "1 / std::pow(500 - start, power) - 1 / std::pow(800 - start, power)",
     "1 / std::pow(500 - start, power) + 1 / std::pow(800 - start, power)", "test_published_procedure"),
    ("engine/procedure/heat.cpp", "if (ml > 10)", "if (ml >= 10)", "test_published_procedure"),
    ("engine/frame/slender.cpp", "slender <= 70", "slender < 70", "test_formulas"),
]


def text_of(path):
    return path.read_text(encoding="utf-8")


def run(*command):
    return subprocess.run([str(c) for c in command], stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)


def tests_pass(build, target):
    """None when it does not build, which says nothing about the tests."""
    if run("cmake", "--build", build, "--target", target).returncode:
        return None
    (program,) = build.glob(f"tests/**/{target}")
    return run(program).returncode == 0


def literals(text, ours=()):
    """Where the numbers of a source stand: not in comments, strings, includes, names, nor 0, 1 and 2, which mostly count."""
    for fragment in ours:
        if fragment not in text:
            sys.exit(f"'{fragment}' no longer stands where it is left out")
        text = text.replace(fragment, "~" * len(fragment))
    for line in re.finditer(r".*\n", text):
        code = re.sub(r'"[^"]*"', lambda m: "~" * len(m.group()), line.group())
        code = re.sub(r"//.*|^#.*", lambda m: "~" * len(m.group()), code)
        for number in re.finditer(r"(?<![\w.])(\d+\.\d*(?:e[-+]?\d+)?|\d+e[-+]?\d+|\d+)(?![\w.])", code):
            if number.group() not in ("0", "1", "2"):
                yield line.start() + number.start(), number.group()


def changed(number):
    """Its last digit before any exponent becomes another."""
    digits, _, exponent = number.partition("e")
    last = digits.rstrip(".")
    new = last[:-1] + ("8" if last[-1] == "9" else str(int(last[-1]) + 1)) + digits[len(last):]
    return new + ("e" + exponent if exponent else "")


def main(root, folder, only=None):
    tree, build = folder / "tree", folder / "build"
    shutil.rmtree(tree, ignore_errors=True)
    shutil.copytree(root, tree, copy_function=shutil.copy, ignore=shutil.ignore_patterns(".build", ".git"))
    made = run("cmake", "-S", tree, "-B", build, "-G", "Ninja", "-DCMAKE_BUILD_TYPE=Debug", "-DCMAKE_CXX_FLAGS_DEBUG=-O1", "-DSEAMWRIGHT_TOGETHER=OFF")
    if made.returncode:
        sys.exit(made.stdout)
    unseen = tried = 0

    def attempt(file, whole, becomes, what, targets):
        nonlocal unseen, tried
        path = tree / file
        path.write_text(becomes, encoding="utf-8")
        results = []
        for target in targets:
            results.append(tests_pass(build, target))
            if not results[-1]:
                break
        path.write_text(whole, encoding="utf-8")
        if results[-1] is None:
            return
        seen = results[-1] is False
        tried += 1
        if not seen:
            unseen += 1
            print(f"NOT SEEN: {file}, {what}", flush=True)

    for target in sorted({*FORMULAS.values(), *EVERYWHERE, *(s[3] for s in SIGNS)}):
        if not tests_pass(build, target):
            sys.exit(f"{target} fails, or does not build, without any change")
    for file, was, becomes, target in SIGNS:
        whole = text_of(tree / file)
        if whole.count(was) != 1:
            sys.exit(f"{file}: '{was}' stands there {whole.count(was)} times, not once")
        if only in (None, file):
            attempt(file, whole, whole.replace(was, becomes), f"{was} -> {becomes}", [target])
    for file, target in FORMULAS.items():
        if only not in (None, file):
            continue
        whole = text_of(tree / file)
        for at, number in literals(whole, OURS.get(file, ())):
            line = whole.count("\n", 0, at) + 1
            attempt(file, whole, whole[:at] + changed(number) + whole[at + len(number):], f"line {line}: {number} -> {changed(number)}", [*EVERYWHERE, target])
    print(f"{tried - unseen} of {tried} changes are seen")
    return 1 if unseen else 0


if __name__ == "__main__":
    sys.exit(main(pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2]), *sys.argv[3:]))
