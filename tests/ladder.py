# SPDX-License-Identifier: GPL-3.0-or-later
"""ladder.py PROGRAM ROOT: docs/methods/ladder.md, from bare stress to verdict for the five worst welds of both revisions of the demonstration."""
import json
import pathlib
import subprocess
import sys

program, root = sys.argv[1], pathlib.Path(sys.argv[2])
most = 5
revisions = (("A", "orchard-trike"), ("B", "orchard-trike-b"))


def rating_of(example, *options):
    done = subprocess.run([program, "rate", str(root / "catalog/examples" / example), "--method", "spectral", "--json", *options],
                          capture_output=True, text=True)
    if done.returncode not in (0, 1):
        sys.exit(f"{example}: exit {done.returncode}\n{done.stderr}")
    return json.loads(done.stdout)


def evidence_of(evidence, figure):
    """All figures of a name in the chain."""
    found = [evidence] if evidence["figure"] == figure else []
    for behind in evidence.get("because", []):
        found += evidence_of(behind, figure)
    return found


def inputs(evidence):
    return {i["name"]: i["value"] for i in evidence.get("inputs", [])}


def places(rating):
    """The welds that live shortest with the place that does it, of a pair left and right the worse."""
    first = {}
    known = [(w, s) for w in rating["welds"] for s in w["sites"] if s["life_km_predicted"] and s["largest_range_mpa"]]
    for weld, site in sorted(known, key=lambda p: p[1]["life_km_predicted"]):
        first.setdefault(weld["id"].partition(".")[0], (weld, site))
    return list(first.values())[:most]


def km(life):
    return f"{int(float(f'{life:.2g}')):,}" if life < 1e8 else f"{life:.1e}"


def constants(rating):
    """a = N S^3 of each curve, from a place whose largest range lies on its steep branch."""
    found = {}
    for weld in rating["welds"]:
        for site in weld["sites"]:
            for life in evidence_of(site.get("evidence", {"figure": ""}), "sn-life"):
                if life["value"] and life["value"] < 1e7:
                    found[site["curve"]] = life["value"] * inputs(life)["range"] ** 3
    return found


def by_hand(rating, constant, site):
    """Cycles and equivalent range of a year and the life that slope 3 alone gives them, characteristic curve, Miner 1."""
    bins = [inputs(r) for r in evidence_of(site["evidence"], "range")]
    cycles = sum(b["cycles"] for b in bins)
    # Within a bin as its middle, as a hand would.
    cubes = sum(b["cycles"] * ((b["from"] + b["to"]) / 2) ** 3 for b in bins)
    if not constant or not cycles:
        return None
    return cycles, (cubes / cycles) ** (1 / 3), constant * rating["service_km"] / rating["service_years"] / cubes


def rung(name, life, reason):
    return f"| {name} | {km(life) if life else '-'} | {reason} |"


def ladder(rating, constant, weld, site):
    service, rules = rating["service_km"], rating["rules"]
    bare = service / site["damage_unfactored"]
    median = site["life_km_predicted"] / rules["miner_median"]
    allowed = service / site["allowed_damage"] if site["allowed_damage"] else None
    hand = by_hand(rating, constant, site)
    lines = [f"### {weld['id']}, {site['site']}, curve {site['curve']}\n",
             f"Largest range {site['largest_range_mpa']:.0f} MPa"
             + (f"; {hand[0]:.2g} cycles a year, equivalent range at slope 3 {hand[1]:.1f} MPa" if hand else "") + ".\n",
             "| rung | life, km | factor and reason |\n|---|---|---|"]
    if hand:
        lines.append(rung("by hand: slope 3, bins as their middles", hand[2], "a / Σ n S³, the curve's characteristic constant alone, no knee"))
    lines += [
        rung("characteristic curve, Miner 1", bare, f"{bare / hand[2]:.2f} of the hand's: knee and second slope, shear at the same point" if hand else "as the curve is printed"),
        rung("median curve", median, f"times {median / bare:.2f}: two standard deviations of log N up to the mean"),
        rung("Miner's sum as observed: the prediction", site["life_km_predicted"], f"times {rules['miner_median']:g}: variable amplitudes (from memory)"),
    ]
    if allowed:
        lines.append(rung("wanted of the characteristic curve by its target", allowed,
                          f"damage {site['allowed_damage']:.2g} is allowed: spread of curve, loads, models and Miner's sum at the target's index"))
    if site["damage"]:
        lines.append(rung("the set's own format beside it", site["life_km"],
                          f"loads times {rules['load_factor']:.2f} to the slope, design fatigue factor {rules['design_fatigue_factor']:g}; decides nothing"))
    lines.append(f"\nService {km(service)} km: **{weld['verdict'].replace('_', ' ')}**.\n")
    return "\n".join(lines)


parts = ["# From bare stress to verdict\n",
         "Made by `tests/run shown` from the demonstration's two revisions (data invented), each load counted alone (`--method spectral`). The first rung is worked "
         "out here from the counted ranges by a hand's rule, apart from the program; the others are the program's. "
         "How each factor is meant: [rating.md](rating.md).\n"]
for name, example in revisions:
    rating = rating_of(example)
    parts.append(f"## Revision {name}\n")
    known = constants(rating)
    for weld, site in places(rating):
        # Of one weld alone the chain of each kind of place stands whole.
        whole = {s["site"]: s for w in rating_of(example, "--weld", weld["id"])["welds"] for s in w["sites"]}[site["site"]]
        parts.append(ladder(rating, known.get(whole["curve"]), weld, whole))
(root / "docs/methods/ladder.md").write_text("\n".join(parts), encoding="utf-8")
print("docs/methods/ladder.md")
