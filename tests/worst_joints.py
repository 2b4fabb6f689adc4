# SPDX-License-Identifier: GPL-3.0-or-later
"""worst_joints.py PROGRAM ROOT: docs/methods/worst-joints.md, the welds of the demonstration that equations and models call the worst."""
import json
import pathlib
import re
import subprocess
import sys
import tempfile

program, root = sys.argv[1], pathlib.Path(sys.argv[2])
example, pictures = root / "catalog/examples/orchard-trike", root / "docs/pictures"
most = 10
for old in pictures.glob("worst-*.svg"):
    old.unlink()


def run(*words):
    done = subprocess.run([str(w) for w in (program, *words)], capture_output=True, text=True)
    if done.returncode not in (0, 1):
        sys.exit(f"{' '.join(map(str, words))}: exit {done.returncode}\n{done.stderr}")
    return done.stdout


def rated(*options):
    """The rating, and its tube welds with the place that lives shortest without factors, worst first."""
    rating = json.loads(run("rate", example, "--method", "spectral", "--json", *options))
    worst = {}
    for weld in rating["welds"]:
        places = [s for s in weld["sites"] if s["life_km_predicted"]]
        if weld["joint"].startswith("tube-") or not places:
            continue
        worst[weld["id"]] = min(places, key=lambda s: s["life_km_predicted"])
    return rating, dict(sorted(worst.items(), key=lambda w: w[1]["life_km_predicted"]))


def listed(worst):
    """The first ones, of a pair left and right the worse."""
    first = {}
    for weld in worst:
        first.setdefault(weld.partition(".")[0], weld)
    return list(first.values())[:most]


def km(life):
    digits = f"{life:.2g}"
    return f"{int(float(digits)):,}" if float(digits) < 1e7 else "over 10 million"


def inputs_of(evidence):
    yield from evidence.get("inputs", [])
    for behind in evidence.get("because", []):
        yield from inputs_of(behind)


def cause(rating, place):
    """Which section carries it, and which load does most of the damage."""
    inputs = {i["name"]: i["value"] for i in inputs_of(place["evidence"])}
    section = next((f"{name.replace('-', ' on the ') if '-' in name else name} of {inputs[name]:.1f} mm"
                    for name in ("throat", "brace-leg", "chord-leg") if name in inputs), "wall")
    shares = sorted(zip(place["damage_share"], rating["parts"]), key=lambda p: -p[0])
    share, part = shares[0]
    return f"{section}; {part['source']}{', ' + part['leg'] if part['leg'] else ''} {100 * share:.0f} %"


def row(weld, here, there, rating):
    other = there.get(weld)
    return (f"| {weld} | {here[weld]['site']} | {km(here[weld]['life_km_predicted'])} | "
            f"{other['site'] if other else '-'} | {km(other['life_km_predicted']) if other else '-'} | {cause(rating, here[weld])} |")


def picture(weld):
    with tempfile.TemporaryDirectory() as folder:
        page = pathlib.Path(folder) / "page.html"
        run("rate", example, "--method", "spectral", "--weld", weld, "--explain", "--html", page)
        drawn = re.search(r"<svg.*?</svg>", page.read_text(encoding="utf-8"), re.S)
    if not drawn:
        return ""
    (pictures / f"worst-{weld}.svg").write_text(drawn.group(0) + "\n", encoding="utf-8")
    return f"### {weld}\n\n![{weld}: the life that the service uses, at each place around the seam](../pictures/worst-{weld}.svg)\n"


by_models, models = rated()
by_equations, equations = rated("--equations")
head = "| weld | place | life, km | place | life, km | what carries it, and which load does most |\n|---|---|---|---|---|---|"
lines = [
    "# The worst joints of the demonstration\n",
    "Made by `tests/run shown`. Predicted lives, each load counted alone (`--method spectral`); data invented; of a pair left and right the worse. "
    "How the models are made: [joints.md](joints.md).\n",
    f"## The {most} worst by models: beside them by equations\n", head,
    *(row(w, models, equations, by_models) for w in listed(models)),
    f"\n## The {most} worst by equations: beside them by models\n", head,
    *(row(w, equations, models, by_equations) for w in listed(equations)),
    "\n## Where they crack by models\n",
    *filter(None, (picture(w) for w in listed(models))),
]
target = root / "docs/methods/worst-joints.md"
target.write_text("\n".join(lines), encoding="utf-8")
print(target.relative_to(root), *sorted(str(p.relative_to(root)) for p in pictures.glob("worst-*.svg")), sep="\n")
