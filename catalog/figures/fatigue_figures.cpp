// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>
#include <limits>

#include "catalog/figures/subjects.h"
#include "catalog/published/nearest.h"
#include "catalog/published/published_data.h"
#include "engine/cycles/spectral.h"
#include "engine/evidence/named_values.h"
#include "engine/fatigue/curve.h"
#include "engine/rating/parts.h"
#include "engine/rules/rule_tables.h"
#include "engine/rules/rules.h"

namespace seamwright::figures {

namespace {

fatigue::Curve from_catalog(const Arguments& a, const published::Catalog& catalog) {
  const rules::RuleSet& set = **find_named(rules::rule_sets, a.text_of("rules"));
  std::vector<std::string> known;
  for (const fatigue::Curve& c : catalog.data.curves) {
    if (!rules::is_curve_of(set, c) || c.environment != a.text_of("environment")) continue;
    if (c.id == a.text_of("curve")) return c;
    known.push_back(c.id);
  }
  throw Fault{Message{"figure.unknown-curve",
                      {text("curve", a.text_of("curve")), text("rules", a.text_of("rules")),
                       text("environment", a.text_of("environment")),
                       text("nearest", published::nearest_or_some(a.text_of("curve"), known))}}};
}

void one_of(const Arguments& a, const char* first, const char* second) {
  if (a.has(first) == a.has(second))
    throw Fault{Message{
        "figure.one-of",
        {text("parameter", first), text("expected", std::string(first).append(" or ").append(second))}}};
}

// The intercept of a line through a range at a number of cycles: log a = log N + m log S.
double through(double slope, double range_mpa, double cycles) {
  return std::log10(cycles) + slope * std::log10(range_mpa);
}

// A curve by its slopes and knees, log N = log a - m log S.
fatigue::Curve own_curve(const Arguments& a) {
  one_of(a, "log_a", "reference_mpa");
  constexpr double infinite = std::numeric_limits<double>::infinity();
  fatigue::Curve c;
  c.id = c.set = c.edition = "given";
  c.environment = a.text_of("environment");
  c.source = {"seamwright", "a curve as given"};
  const double slope = a.number("slope", 1, 30);
  const double log_a = a.has("log_a") ? a.number("log_a", 1, 60)
                                      : through(slope, a.number("reference_mpa", 1e-3, 1e5),
                                                a.number("reference_cycles", 1, 1e12));
  c.segments = {{slope, log_a, infinite}};
  if (a.has("knee_cycles") || a.has("slope_beyond")) {
    const double knee = a.number("knee_cycles", 1, 1e12), beyond = a.number("slope_beyond", 1, 30);
    const double knee_mpa = std::pow(10, (log_a - std::log10(knee)) / slope);
    c.segments[0].to_cycles = knee;
    c.segments.push_back({beyond, through(beyond, knee_mpa, knee), infinite});
  }
  if (a.has("cutoff_cycles")) {
    const double cycles = a.number("cutoff_cycles", a.has("knee_cycles") ? a.number("knee_cycles") : 1, 1e12);
    c.cutoff_mpa = std::pow(10, (c.segments.back().log_a - std::log10(cycles)) / c.segments.back().slope);
  }
  if (a.has("reference_thickness_mm") || a.has("thickness_exponent")) {
    c.reference_thickness_mm = a.number("reference_thickness_mm", 0.1, 1000);
    c.thickness_exponent = a.number("thickness_exponent", 0, 1);
  }
  return c;
}

fatigue::Curve curve_of(const Arguments& a, const published::Catalog& catalog) {
  one_of(a, "curve", "slope");
  return a.has("slope") ? own_curve(a) : from_catalog(a, catalog);
}

// The thickness is, where none is given, the curve's own reference, where it has a rule for thickness at all.
std::optional<double> thickness_of(const Arguments& a, const fatigue::Curve& curve) {
  if (a.has("thickness_mm")) return a.number("thickness_mm", 0.1, 1000);
  if (curve.reference_thickness_mm > 0) return curve.reference_thickness_mm;
  return std::nullopt;
}

// A curve without a rule for thickness has, when none is given, no wall to judge.
Evidence without_wall(const fatigue::Curve& curve, const char* figure, double value, const char* unit) {
  Evidence e;
  e.figure = figure;
  e.value = value;
  e.unit = unit;
  e.source = curve.source;
  e.from_memory = curve.from_memory;
  return e;
}

FigureResult sn_life(const Arguments& a, const published::Catalog& catalog) {
  const fatigue::Curve curve = curve_of(a, catalog);
  const double range = a.number("range_mpa");
  fatigue::LifeResult r;
  if (const auto thickness = thickness_of(a, curve)) {
    r = fatigue::sn_life(curve, range, *thickness);
  } else {
    r.cycles = fatigue::cycles_to_failure(curve, range);
    r.evidence = without_wall(curve, "sn-life", r.cycles, "cycles");
    r.evidence.inputs.push_back({"range", range, "MPa"});
  }
  return {"sn-life", {{"cycles", r.cycles, "cycles"}}, r.evidence};
}

FigureResult miner(const Arguments& a, const published::Catalog& catalog) {
  const fatigue::Curve curve = curve_of(a, catalog);
  std::vector<fatigue::SpectrumLine> lines;
  for (const auto& [cycles, range] : a.spectrum("spectrum")) lines.push_back({cycles, range});
  // Any thickness does where the curve has no rule for one; then nothing is said about it.
  const std::optional<double> thickness = thickness_of(a, curve);
  fatigue::MinerResult r = fatigue::miner(curve, lines, thickness.value_or(1));
  if (!thickness) {
    r.evidence = without_wall(curve, "miner", r.damage, "");
    for (const fatigue::SpectrumLine& line : lines) {
      r.evidence.inputs.push_back({"cycles", line.cycles, ""});
      r.evidence.inputs.push_back({"range", line.range_mpa, "MPa"});
    }
  }
  FigureResult result{"miner", {{"damage", r.damage, ""}}, r.evidence};
  for (std::size_t i = 0; i < r.parts.size(); ++i)
    result.values.push_back({std::string("line_").append(std::to_string(i + 1)), r.parts[i], ""});
  return result;
}

// A random Gaussian stress by the moments of its spectrum, with all models beside each other.
FigureResult spectral_damage(const Arguments& a, const published::Catalog& catalog) {
  const fatigue::Curve curve = curve_of(a, catalog);
  const double hours = a.number("hours", 0, 1e7);
  const cycles::Moments m{a.number("m0", 0), a.number("m1", 0), a.number("m2", 0), a.number("m4", 0)};
  const std::optional<double> thickness = thickness_of(a, curve);
  const fatigue::DamageLaw law(curve, thickness ? fatigue::thickness_factor(curve, *thickness) : 1);
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
  return {{"curve", "", ParameterKind::text, {}, {}, true},
          choice_parameter("rules", names_of(rules::rule_sets), rules::Rules{}.set->name),
          choice_parameter("environment", names_of(rules::environments), name_of(rules::Environment::air)),
          optional_parameter("thickness_mm", "mm"),
          optional_parameter("slope", ""),
          optional_parameter("log_a", ""),
          optional_parameter("reference_mpa", "MPa"),
          defaulted_parameter("reference_cycles", "cycles", "2e6"),
          optional_parameter("knee_cycles", "cycles"),
          optional_parameter("slope_beyond", ""),
          optional_parameter("cutoff_cycles", "cycles"),
          optional_parameter("reference_thickness_mm", "mm"),
          optional_parameter("thickness_exponent", "")};
}

}  // namespace

std::vector<Figure> fatigue_figures() {
  std::vector<Parameter> one = curve_parameters(), many = curve_parameters();
  one.push_back(needed_parameter("range_mpa", "MPa"));
  many.push_back({"spectrum", "", ParameterKind::spectrum, {}, {}, false});
  std::vector<Parameter> random = curve_parameters();
  for (const auto& [name, unit] : {std::pair("m0", "MPa2"), std::pair("m1", "MPa2 Hz"),
                                   std::pair("m2", "MPa2 Hz2"), std::pair("m4", "MPa2 Hz4")})
    random.push_back(needed_parameter(name, unit));
  random.push_back(defaulted_parameter("hours", "h", "1"));
  return {{"spectral-damage", random, {"dirlik-1985", "density of the ranges"}, spectral_damage},
          {"sn-life", one, {"dnv-rp-c203-2016", "2.4, Table 2-1"}, sn_life},
          {"miner", many, {"dnv-rp-c203-2016", "2.2"}, miner}};
}

}  // namespace seamwright::figures
