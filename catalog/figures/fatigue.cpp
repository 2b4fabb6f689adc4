// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/figures/subjects.h"
#include "catalog/published/nearest.h"
#include "engine/cycles/spectral.h"
#include "engine/fatigue/curve.h"
#include "engine/rating/parts.h"

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

// A random Gaussian stress by the moments of its spectrum, with all models beside each other.
FigureResult spectral_damage(const Arguments& a, const published::Catalog& catalog) {
  const fatigue::Curve& curve = curve_of(a, catalog);
  const double hours = a.number("hours", 0, 1e7);
  const cycles::Moments m{a.number("m0", 0), a.number("m1", 0), a.number("m2", 0), a.number("m4", 0)};
  const fatigue::DamageLaw law(curve, fatigue::thickness_factor(curve, thickness_of(a, curve)));
  const std::vector<cycles::PowerLaw> laws = rating::power_laws(law);
  FigureResult r{"spectral-damage", {}, {}};
  for (const auto model : cycles::range_models)
    r.values.push_back({cycles::name_of(model), 3600 * hours * cycles::damage_per_s(m, model, laws), ""});
  r.values.push_back({"upcrossings", cycles::upcrossings_per_s(m), "1/s"});
  r.values.push_back({"irregularity", cycles::irregularity(m), ""});
  Evidence& e = r.evidence;
  e.figure = std::string("spectral-damage");
  e.value = r.values.front().value;
  e.source = {"dirlik-1985", "density of the ranges"};
  e.from_memory = true;
  e.inputs = {
      {"m0", m.m0, "MPa2"}, {"m1", m.m1, "MPa2 Hz"}, {"m2", m.m2, "MPa2 Hz2"}, {"m4", m.m4, "MPa2 Hz4"}};
  e.notes.push_back({"cycles.gaussian", {}});
  return r;
}

std::vector<Parameter> curve_parameters() {
  return {{"curve", "", ParameterKind::text, {}, {}, false},
          choice("rules", {"dnv", "en1993", "iiw"}, "dnv"),
          choice("environment", {"air", "free-corrosion"}, "air"),
          sometimes("thickness_mm", "mm")};
}

}  // namespace

std::vector<Figure> fatigue_figures() {
  std::vector<Parameter> one = curve_parameters(), many = curve_parameters();
  one.push_back(needed("range_mpa", "MPa"));
  many.push_back({"spectrum", "", ParameterKind::spectrum, {}, {}, false});
  std::vector<Parameter> random = curve_parameters();
  for (const auto& [name, unit] : {std::pair("m0", "MPa2"), std::pair("m1", "MPa2 Hz"),
                                   std::pair("m2", "MPa2 Hz2"), std::pair("m4", "MPa2 Hz4")})
    random.push_back(needed(name, unit));
  random.push_back(standard("hours", "h", "1"));
  return {{"spectral-damage", random, {"dirlik-1985", "density of the ranges"}, spectral_damage},
          {"sn-life", one, {"dnv-rp-c203-2016", "2.4, Table 2-1"}, sn_life},
          {"miner", many, {"dnv-rp-c203-2016", "2.2"}, miner}};
}

}  // namespace seamwright::figures
