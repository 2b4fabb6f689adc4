// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/prediction_blocks.h"

#include <algorithm>
#include <cmath>

#include "reports/content/evidence_blocks.h"

namespace seamwright::reports {

namespace {

Facts facts_of_prediction(const rating::Rating& r) {
  Facts f;
  const auto add = [&](MessageId label, Cell value) { f.facts.push_back({message_of(label), std::move(value)}); };
  const fatigue::Prediction& p = r.predicted;
  add("prediction.life", Quantity{p.life.median * r.service_km, "km", 2});
  add("prediction.interval", life_interval(p.life, r.service_km));
  add("prediction.first-tenth", Quantity{p.life.first_tenth * r.service_km, "km", 2});
  add("prediction.miner-one", Quantity{p.life.median / r.rules.miner_median * r.service_km, "km", 2});
  add("prediction.cracked", cracked_cell(p.cracked));
  add("prediction.cracked-interval", Message{"prediction.count-from-to",
                                             {number("few", 1000 * p.cracked.low, ""), number("many", 1000 * p.cracked.high, "")}});
  const fatigue::SimulatedChance& simulated = r.likelihood.simulated;
  if (simulated.standard_error > 0 || simulated.probability > 0) {
    add("likelihood.simulated", Quantity{100 * simulated.probability, "%", 3});
    add("likelihood.simulated-error", Quantity{100 * simulated.standard_error, "%", 2});
  }
  return f;
}

Table limit_states_of(const rating::RatingLikelihood& l) {
  Table t = table_of({"column.limit-state", "column.per-thousand", "column.at-most", "column.index", "column.target-index",
                      "column.verdict"});
  for (const rating::LimitState& s : l.limit_states)
    t.rows.push_back({Message{composed_id("limit-state.", rating::name_of(s.kind)), {text("weld", s.weld)}},
                      Quantity{1000 * s.probability, "", 2}, Quantity{1000 * s.target_probability, "", 2},
                      Quantity{s.index, "", 2}, Quantity{s.target_index, "", 2}, State{s.met() ? "meets" : "falls_short"}});
  return t;
}

struct LonePaths {
  std::size_t welds = 0, lone = 0, looked = 0;  // of the lone ones, whose cracks are found in time
};

LonePaths lone_paths(const rating::Rating& r) {
  LonePaths paths;
  for (const rating::WeldRating& w : r.welds) {
    if (w.joint.empty()) continue;  // a notch, or bolts
    ++paths.welds;
    if (w.path.other()) continue;
    ++paths.lone;
    if (w.missed_share < 1) ++paths.looked;
  }
  return paths;
}

Message paths_sentence(const rating::Rating& r) {
  const LonePaths paths = lone_paths(r);
  return {"limit-state.paths", {number("count", static_cast<double>(paths.lone), ""), number("all", static_cast<double>(paths.welds), "")}};
}

Message looks_sentence(const rating::Rating& r) {
  if (r.rules.strategy != rules::Strategy::inspected) return message_of("limit-state.uninspected");
  if (!rules::looks(r.rules)) return message_of("limit-state.inspected");
  const LonePaths paths = lone_paths(r);
  return {"limit-state.looked",
          {number("every", r.rules.look_every_km, "km"), sentence_argument("means", composed_id("look.", name_of(r.rules.look_by))),
           number("count", static_cast<double>(paths.looked), ""), number("all", static_cast<double>(paths.lone), "")}};
}

Message rider_sentence(const rating::RiderBound& b) {
  if (b.frequency_hz == 0) return message_of("prediction.roll-rigid");
  return {composed_id("prediction.roll-bound-", name_of(b.verdict)),
          {number("frequency", b.frequency_hz, "Hz"), text("weld", b.weld), number("life", b.life_km, "km")}};
}

}  // namespace

Cell life_interval(const fatigue::PredictedLife& life, double service_km) {
  return Message{"prediction.from-to",
                 {number("earliest", life.low * service_km, "km"), number("latest", life.high * service_km, "km")}};
}

Message path_sentence(const rating::LoadPath& path) {
  if (!path.known) return message_of("limit-state.path-unknown");
  if (path.mechanism) return message_of("limit-state.path-mechanism");
  return {path.other() ? MessageId("limit-state.path-other") : "limit-state.path-yield",
          {number("use", 100 * path.use, "%"), text("element", path.element),
           sentence_argument("case", composed_id("peak.", path.load_case))}};
}

Cell cracked_cell(const fatigue::CrackedShare& cracked) { return Quantity{1000 * cracked.mean, "", 2}; }

Message answer_of(const rating::Rating& r) {
  const rating::WeldRating& worst = r.welds[0];
  const std::size_t uncovered = r.likelihood.uncovered;
  if (worst.rejected) return {"rating.answer-rejected", {text("weld", worst.id)}};
  if (r.likelihood.places == 0) return {"rating.answer-uncovered", {text("weld", worst.id)}};
  const fatigue::PredictedLife& life = r.predicted.life;
  constexpr double nearly_all = 0.99;  // of frames whose number says nothing more
  const bool all = r.predicted.cracked.low > nearly_all;
  return {uncovered > 0 ? (all ? MessageId("rating.answer-all-at-most") : "rating.answer-at-least") : all ? MessageId("rating.answer-all") : "rating.answer",
          {number("life", life.median * r.service_km, "km"), number("earliest", life.low * r.service_km, "km"),
           number("latest", life.high * r.service_km, "km"), number("service", r.service_km, "km"),
           number("cracked", 1000 * r.predicted.cracked.mean, ""),
           number("few", 1000 * r.predicted.cracked.low, ""),
           number("many", 1000 * r.predicted.cracked.high, ""),
           number("count", static_cast<double>(uncovered), ""), text("weld", worst.id), site_argument("site", worst.governing_site)}};
}

Message growth_sentence(const rating::WeldRating& w) {
  const rating::CrackGrowth& g = w.growth;
  return {w.missed_share < 1 ? MessageId("limit-state.growth") : "limit-state.growth-unlooked",
          {number("from", g.from_mm, "mm"), number("to", g.to_mm, "mm"), number("distance", g.km, "km"),
           number("missed", 100 * w.missed_share, "%")}};
}

std::vector<Block> limit_state_blocks(const rating::Rating& r) {
  if (r.likelihood.places == 0) return {};
  return {Heading{2, message_of("limit-state.title")}, limit_states_of(r.likelihood)};
}

std::vector<Block> prediction_blocks(const rating::Rating& r) {
  std::vector<Block> blocks = limit_state_blocks(r);
  if (!blocks.empty()) blocks.insert(blocks.begin(), facts_of_prediction(r));
  return blocks;
}

std::vector<Block> prediction_notes(const rating::Rating& r) {
  if (r.likelihood.places == 0) return {};
  return {Paragraph{{"prediction.how", {number("median", r.rules.miner_median, ""), number("scatter", r.rules.miner_scatter, "")}}},
          Paragraph{paths_sentence(r)}, Paragraph{looks_sentence(r)}, Paragraph{rider_sentence(r.rider)}};
}

std::vector<Block> load_question_blocks(const rating::Rating& r) {
  const rating::LoadQuestion& q = r.loads;
  if (q.weld.empty()) return {};
  std::vector<Block> blocks{Heading{2, message_of("load-question.title")},
                            Paragraph{{"load-question.share",
                                       {text("weld", q.weld), number("share", 100 * q.unmeasured, "%"),
                                        number("earliest", q.life_low * r.service_km, "km"),
                                        number("latest", q.life_high * r.service_km, "km")}}}};
  if (q.largest.leg.empty()) return blocks;
  blocks.emplace_back(Paragraph{{q.largest.source == "road" ? MessageId("load-question.measure-road") : "load-question.measure",
                                 {number("share", 100 * q.largest_share, "%"), cause_argument(q.largest.source), text("leg", q.largest.leg),
                                  text("member", r.welds[0].member)}}});
  if (r.rules.load_bias != 1) blocks.emplace_back(Paragraph{{"load-question.bias", {number("factor", r.rules.load_bias, "")}}});
  return blocks;
}

std::vector<Block> budget_blocks(const rating::Rating& r) {
  if (r.likelihood.places == 0) return {};
  const rating::Budget& b = r.likelihood.budget;
  Table t = table_of({"column.scatter-source", "column.scatter-kind", "column.scatter-acts", "column.scatter-of",
                      "column.of-life", "column.variance", "column.origin", "column.source-of"});
  for (const rating::BudgetRow& row : b.rows)
    t.rows.push_back({message_of(composed_id("budget.", rating::name_of(row.source))),
                      message_of(row.shared ? MessageId("budget.shared") : "budget.each"),
                      message_of(row.of_stress ? MessageId("budget.stress") : "budget.life"),
                      Quantity{row.deviation, "", 2}, Quantity{row.of_life / std::log(10.0), "", 2},
                      Quantity{100 * row.share, "%", 2}, message_of(composed_id("budget.", rating::name_of(row.origin))),
                      row.from_memory ? Cell(Message{"budget.from-memory", {source_argument(row.from.key)}}) : source_cell(row.from.key)});
  const std::vector<rating::LimitState>& states = r.likelihood.limit_states;
  const auto factor = [&](std::size_t i) { return b.life_factor(states[i].target_index); };
  return {Heading{2, {"budget.title", {text("weld", b.weld)}}}, std::move(t),
          Paragraph{{"budget.factors",
                     {number("slope", b.slope, ""), number("deviation", b.deviation / std::log(10.0), ""),
                      number("crack", states[0].target_index, ""), number("crack-times", factor(0), ""),
                      number("single", states[1].target_index, ""), number("single-times", factor(1), ""),
                      number("fall", states[2].target_index, ""), number("fall-times", factor(2), "")}}}};
}

}  // namespace seamwright::reports
