// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/calculation_blocks.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "catalog/published/published_data.h"
#include "engine/rules/rule_tables.h"
#include "reports/content/evidence_blocks.h"
#include "reports/content/prediction_blocks.h"
#include "reports/content/rating_blocks.h"

namespace seamwright::reports {

namespace {

Particulars::Particular symbol(const char* name, double value, const char* unit, int digits) {
  return {{"calculation.symbol", {text("symbol", name)}}, Quantity{value, unit, digits}};
}

Cell cited_cell(const Source& source, bool from_memory) {
  if (source.key.empty() && source.clause.empty()) return message_of("budget.assumed");
  if (source.clause.empty()) return from_memory ? Cell(Message{"budget.from-memory", {source_argument(source.key)}}) : source_cell(source.key);
  return Message{from_memory ? MessageId("source.clause-from-memory") : "source.clause", {source_argument(source.key), text("clause", source.clause)}};
}

struct Steps {
  Table table = table_of({"column.quantity", "column.formula", "column.values-in", "column.outcome", "column.source-of"});
  void add(MessageId what, const char* formula, std::vector<Particulars::Particular> values, Quantity result, Cell source) {
    table.rows.push_back({message_of(what), Verbatim{formula}, Particulars{std::move(values)}, std::move(result), std::move(source)});
  }
};

const fatigue::Curve* curve_of(const rating::Rating& r, const rating::SiteRating& s) {
  const bool inside = s.kind.starts_with("root");
  return rules::curve_of(published::catalog().data, *r.rules.set, s.curve,
                         name_of(inside ? r.rules.environment_inside : r.rules.environment_outside));
}

// The branch of the curve that holds at this range.
const fatigue::Segment& branch_at(const fatigue::Curve& curve, double range_mpa) {
  const auto holds = [&](const fatigue::Segment& s) { return s.log_a - s.slope * std::log10(range_mpa) <= std::log10(s.to_cycles); };
  const auto found = std::find_if(curve.segments.begin(), curve.segments.end(), holds);
  return found == curve.segments.end() ? curve.segments.back() : *found;
}

void add_prediction(Steps& steps, const rating::Rating& r, const rating::SiteRating& s) {
  const fatigue::Curve* curve = curve_of(r, s);
  if (curve && s.largest_range_mpa > 0) {
    const fatigue::Segment& branch = branch_at(*curve, s.largest_range_mpa);
    steps.add("calculation.cycles", "N = a / S^m",
              {symbol("log a", branch.log_a, "", 5), symbol("m", branch.slope, "", 3), symbol("S", s.largest_range_mpa, "MPa", 3)},
              {fatigue::cycles_to_failure(*curve, s.largest_range_mpa), "", 2}, cited_cell(curve->source, curve->from_memory));
  }
  // This is as it was rated: a curve of the shop has a scatter of its own.
  const double median = s.life_km_predicted * s.damage_unfactored / (r.service_km * r.rules.miner_median);
  const double deviation = std::log10(median) / r.rules.set->below_mean;
  steps.add("calculation.damage", "D = Σ n / N", {symbol("L", r.service_km, "km", 3)}, {s.damage_unfactored, "", 2},
            message_of(r.method == "spectral" ? MessageId("rating.method-spectral") : "rating.method-time"));
  steps.add("calculation.median", "f = 10^(b s)", {symbol("b", r.rules.set->below_mean, "", 3), symbol("s", deviation, "", 3)}, {median, "", 2},
            cited_cell(curve && curve->scatter_log_n > 0 ? curve->source : Source{}, curve && curve->from_memory));
  steps.add("calculation.predicted", "L · M · f / D",
            {symbol("L", r.service_km, "km", 3), symbol("M", r.rules.miner_median, "", 3), symbol("f", median, "", 2), symbol("D", s.damage_unfactored, "", 2)},
            {s.life_km_predicted, "km", 2}, cited_cell({"iiw-1823", "4.3.1"}, true));
}

// The target of this weld's load path asks for so much.
void add_target(Steps& steps, const rating::Rating& r, const rating::WeldRating& w, const rating::SiteRating& s) {
  const double index = w.path.other() ? r.rules.target_crack : r.rules.target_single_path;
  const Cell targets = cited_cell({"en-1990", "Table C2"}, true);
  const rating::Budget& b = r.likelihood.budget;
  if (b.weld == w.id)
    steps.add("calculation.required", "L · exp(β s)", {symbol("L", r.service_km, "km", 3), symbol("β", index, "", 3), symbol("s", b.deviation, "", 3)},
              {r.service_km * b.life_factor(index), "km", 2}, targets);
  steps.add("calculation.used", "D / D(β)", {symbol("β", index, "", 3), symbol("D", s.damage_unfactored, "", 2), symbol("D(β)", s.allowed_damage, "", 2)},
            {s.used(), "", 2}, targets);
  steps.add("calculation.cracked", "1000 · P", {}, {1000 * w.predicted.cracked.mean, "", 2}, cited_cell({"jcss-pmc", "part 3, fatigue"}, true));
}

void add_format(Steps& steps, const rating::Rating& r, const rating::SiteRating& s) {
  steps.add("calculation.format-damage", "Σ n / N(γ S) · DFF",
            {symbol("γ", r.rules.load_factor * (r.rules.set->partial_factor ? r.rules.partial_factor : 1), "", 3),
             symbol("DFF", r.rules.set->design_fatigue_factor ? r.rules.design_fatigue_factor : 1, "", 3)},
            {s.damage, "", 2}, term_cell("rule-set.", name_of(r.rules.set)));
  steps.add("calculation.format-life", "L · limit / D", {symbol("limit", r.rules.damage_limit, "", 3)}, {s.life_km, "km", 2}, term_cell("rule-set.", name_of(r.rules.set)));
}

// These stand in the steps, in the table of loads and in the sentences on growth.
constexpr std::array<std::string_view, 6> told_elsewhere{"channels",           "cycles-by-range",     "leg-stress-deviation",
                                                         "standing-stress", "inspection-interval", "reliability-index"};

// The sentences on how a place's stress follows; limits that it lies outside of.
void add_stress(Document& d, const rating::SiteRating& s) {
  d.blocks.emplace_back(Heading{2, message_of("calculation.stress")});
  Reasons reasons;
  for (const Evidence& e : s.evidence.because) {
    const auto& elsewhere = told_elsewhere;
    if (std::find(elsewhere.begin(), elsewhere.end(), e.figure) != elsewhere.end()) continue;
    Evidence alone = e;
    alone.because.clear();
    reasons.reasons.push_back(reason_of(alone));
  }
  d.blocks.emplace_back(std::move(reasons));
}

void add_loads(Document& d, const rating::Rating& r, const rating::SiteRating& s) {
  constexpr std::size_t most = 6;
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < std::min(s.damage_share.size(), r.parts.size()); ++i)
    if (s.damage_share[i] >= 0.005) order.push_back(i);
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return s.damage_share[a] > s.damage_share[b]; });
  Table t = table_of({"column.leg", "column.cause", "column.damage-share"});
  for (std::size_t i = 0; i < std::min(most, order.size()); ++i) {
    const rating::Part& part = r.parts[order[i]];
    t.rows.push_back({Verbatim{part.leg}, Message{"calculation.cause", {cause_argument(part.source)}}, Quantity{100 * s.damage_share[order[i]], "%", 2}});
  }
  d.blocks.emplace_back(Heading{2, message_of("calculation.loads")});
  d.blocks.emplace_back(std::move(t));
}

}  // namespace

Document calculation_document(const rating::Rating& r, const std::string& weld) {
  const rating::WeldRating& w = rated_weld(r, weld);
  const rating::SiteRating& s = w.sites[0];
  Document d;
  d.title = {"rating.why", {text("weld", weld)}};
  d.blocks.emplace_back(cautions());
  d.foot = {{"foot.catalog", {text("hash", r.catalog_sha256.substr(0, 12))}}};
  if (s.curve.empty()) {  // without a number there is nothing to calculate
    add_stress(d, s);
    return d;
  }
  Steps steps;
  add_prediction(steps, r, s);
  add_target(steps, r, w, s);
  add_format(steps, r, s);
  d.blocks.emplace_back(Heading{2, {"calculation.steps", {site_argument("site", s.site), curve_argument(s.curve)}}});
  d.blocks.emplace_back(std::move(steps.table));
  add_loads(d, r, s);
  add_stress(d, s);
  d.blocks.emplace_back(Paragraph{path_sentence(w.path)});
  if (w.growth.km > 0) d.blocks.emplace_back(Paragraph{growth_sentence(w)});
  if (!w.checks.empty()) {
    d.blocks.emplace_back(Heading{2, message_of("rating.checks")});
    d.blocks.emplace_back(checks_table(w));
  }
  d.blocks.emplace_back(Paragraph{{"calculation.chain", {text("weld", weld)}}});
  return d;
}

}  // namespace seamwright::reports
