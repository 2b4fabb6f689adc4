// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/figures/subjects.h"
#include "catalog/published/nearest.h"
#include "engine/fatigue/curve.h"

namespace seamwright::figures {

namespace {

const fatigue::Curve& curve_of(const Arguments& a, const published::Catalog& catalog) {
  std::vector<std::string> known;
  for (const fatigue::Curve& c : catalog.data.curves) {
    if (c.set != a.word("rules") || c.environment != a.word("environment")) continue;
    if (c.id == a.word("curve")) return c;
    known.push_back(c.id);
  }
  throw Fault{Message{"figure.unknown-curve",
                      {text("curve", a.word("curve")), text("rules", a.word("rules")),
                       text("environment", a.word("environment")),
                       text("nearest", published::nearest(a.word("curve"), known))}}};
}

double thickness_of(const Arguments& a, const fatigue::Curve& curve) {
  return a.has("thickness_mm") ? a.number("thickness_mm") : curve.reference_thickness_mm;
}

FigureResult sn_life(const Arguments& a, const published::Catalog& catalog) {
  const fatigue::Curve& curve = curve_of(a, catalog);
  const fatigue::LifeResult r = fatigue::sn_life(curve, a.number("range_mpa"), thickness_of(a, curve));
  return {"sn-life", {{"cycles", r.cycles, "cycles"}}, r.evidence};
}

FigureResult miner(const Arguments& a, const published::Catalog& catalog) {
  const fatigue::Curve& curve = curve_of(a, catalog);
  std::vector<fatigue::SpectrumLine> lines;
  for (const auto& [cycles, range] : a.spectrum("spectrum")) lines.push_back({cycles, range});
  const fatigue::MinerResult r = fatigue::miner(curve, lines, thickness_of(a, curve));
  FigureResult result{"miner", {{"damage", r.damage, ""}}, r.evidence};
  for (std::size_t i = 0; i < r.parts.size(); ++i)
    result.values.push_back({std::string("line_").append(std::to_string(i + 1)), r.parts[i], ""});
  return result;
}

std::vector<Parameter> curve_parameters() {
  return {{"curve", "", ParameterKind::text, {}, {}, false},
          choice("rules", {"dnv"}, "dnv"),
          choice("environment", {"air"}, "air"),
          sometimes("thickness_mm", "mm")};
}

}  // namespace

std::vector<Figure> fatigue_figures() {
  std::vector<Parameter> one = curve_parameters(), many = curve_parameters();
  one.push_back(needed("range_mpa", "MPa"));
  many.push_back({"spectrum", "", ParameterKind::spectrum, {}, {}, false});
  return {{"sn-life", one, {"dnv-rp-c203-2016", "2.4, Table 2-1"}, sn_life},
          {"miner", many, {"dnv-rp-c203-2016", "2.2"}, miner}};
}

}  // namespace seamwright::figures
