// SPDX-License-Identifier: GPL-3.0-or-later
// Life and Miner sum with what stands behind them.
#include <cmath>
#include <limits>

#include "engine/fatigue/curve.h"

namespace seamwright::fatigue {

namespace {

// Thinnest wall of the tests behind hot-spot rules for tubes: ISO 14347:2008, scope; other catalogues start
// no lower.
constexpr double thinnest_tested_wall_mm = 4;

Evidence evidence_of(const Curve& curve, const char* figure, double thickness_mm) {
  Evidence evidence;
  evidence.figure = figure;
  evidence.source = curve.source;
  evidence.from_memory = curve.from_memory;
  evidence.inputs = {{"thickness", thickness_mm, "mm"},
                     {"thickness_factor", thickness_factor(curve, thickness_mm), ""}};
  evidence.limits = {limit("thickness", thickness_mm, "mm", thinnest_tested_wall_mm,
                           std::numeric_limits<double>::infinity())};
  if (curve.set == "shop") evidence.limits.clear();  // its own detail says for which walls it was tested
  if (!all_inside(evidence.limits)) {
    evidence.coverage = Coverage::extended;
    evidence.notes.push_back(
        {"fatigue.thin-wall", {number("wall", thickness_mm, "mm"), text("curve", curve.id)}});
  }
  return evidence;
}

}  // namespace

LifeResult sn_life(const Curve& curve, double range_mpa, double thickness_mm) {
  LifeResult result;
  result.cycles = cycles_to_failure(curve, range_mpa * thickness_factor(curve, thickness_mm));
  result.evidence = evidence_of(curve, "sn-life", thickness_mm);
  result.evidence.value = result.cycles;
  result.evidence.unit = "cycles";
  result.evidence.inputs.push_back({"range", range_mpa, "MPa"});
  return result;
}

MinerResult miner(const Curve& curve, const std::vector<SpectrumLine>& spectrum, double thickness_mm) {
  MinerResult result;
  const double factor = thickness_factor(curve, thickness_mm);
  for (const SpectrumLine& line : spectrum) {
    if (!(std::isfinite(line.cycles) && line.cycles >= 0))
      throw Fault{Message{"fatigue.bad-cycles", {number("cycles", line.cycles, "")}}};
    result.parts.push_back(line.cycles / cycles_to_failure(curve, line.range_mpa * factor));
    result.damage += result.parts.back();
  }
  result.evidence = evidence_of(curve, "miner", thickness_mm);
  result.evidence.value = result.damage;
  for (const SpectrumLine& line : spectrum) {
    result.evidence.inputs.push_back({"cycles", line.cycles, ""});
    result.evidence.inputs.push_back({"range", line.range_mpa, "MPa"});
  }
  return result;
}

}  // namespace seamwright::fatigue
