// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>

#include "engine/frame/frame.h"
#include "reports/content/study_blocks.h"
#include "reports/render/json.h"
#include "reports/render/json_parts.h"

namespace seamwright::reports {

namespace {

// Infinite lives and missing numbers are null: JSON has neither.
Json finite(double value) { return std::isfinite(value) ? Json(value) : Json(); }

}  // namespace

std::string to_json(const files::ComparedJobs& r) {
  Json j = begin_json("comparison");
  j["first"] = {{"name", r.first},
                {"mass_kg", r.rated.first_kg},
                {"failure_probability", r.rated.first.likelihood.frame.probability}};
  j["second"] = {{"name", r.second},
                 {"mass_kg", r.rated.second_kg},
                 {"failure_probability", r.rated.second.likelihood.frame.probability},
                 {"verdict", name_of(r.rated.second.verdict)}};
  j["welds"] = Json::array();
  for (const study::WeldPair& w : r.rated.welds.welds)
    j["welds"].push_back({{"id", w.weld},
                          {"first_km", finite(w.first_km)},
                          {"second_km", finite(w.second_km)},
                          {"ratio", finite(w.ratio)},
                          {"first_at_most", w.first_at_most},
                          {"second_at_most", w.second_at_most},
                          {"first_verdict", name_of(w.first)},
                          {"second_verdict", name_of(w.second)}});
  j["only_first"] = r.rated.welds.only_first;
  j["only_second"] = r.rated.welds.only_second;
  j["changed"] = Json::array();
  for (const files::Difference& d : r.differences)
    j["changed"].push_back({{"place", d.place}, {"first", d.first}, {"second", d.second}});
  return end_json(j);
}

std::string to_json(const study::Influences& all) {
  Json j = begin_json("influence");
  j["weld"] = all.weld;
  j["life_km"] = finite(all.life_km);
  j["inputs"] = Json::array();
  for (const study::Influence& i : all.inputs) {
    Json words = Json::array();
    for (const MessageId word : i.words) words.push_back(word.text());
    j["inputs"].push_back({{"input", i.input},
                           {"unit", i.unit},
                           {"low", i.low},
                           {"as_is", i.as_is},
                           {"high", i.high},
                           {"low_km", finite(i.low_km)},
                           {"high_km", finite(i.high_km)},
                           {"low_weld", i.low_weld},
                           {"high_weld", i.high_weld},
                           {"spread", finite(i.spread)},
                           {"moved_weld", i.moved_weld},
                           {"moved", finite(i.moved)},
                           {"words", std::move(words)},
                           {"by_default", i.by_default},
                           {"source", {{"key", i.source.key}, {"clause", i.source.clause}}}});
  }
  j["unmoved"] = Json::array();
  for (const study::KeyWithoutEffect& u : all.unmoved)
    j["unmoved"].push_back({{"key", u.key}, {"reason", u.reason.text()}});
  j["unranged"] = Json::array();
  for (const Message& m : all.unranged) j["unranged"].push_back(json_of(m));
  j["recalled"] = Json::array();
  for (const study::RecalledSource& r : all.recalled)
    j["recalled"].push_back({{"figure", r.figure},
                             {"source", {{"key", r.source.key}, {"clause", r.source.clause}}},
                             {"sites", r.sites}});
  return end_json(j);
}

std::string to_json(const std::vector<study::Suggestion>& all) {
  Json j = begin_json("suggestions");
  j["suggestions"] = Json::array();
  for (const study::Suggestion& s : all)
    j["suggestions"].push_back({{"kind", s.kind},
                                {"unit", s.unit},
                                {"from", finite(s.from)},
                                {"to", finite(s.to)},
                                {"from_wall", s.from_wall},
                                {"to_wall", s.to_wall},
                                {"why", s.why.text()},
                                {"covered", s.covered},
                                {"meets", s.meets},
                                {"with_proof", s.with_proof},
                                {"life_km", finite(s.life_km)},
                                {"mass_kg", s.mass_kg},
                                {"governing_weld", s.governing_weld},
                                {"worse_welds", s.worse}});
  return end_json(j);
}

std::string to_json(const fatigue::Fit& f) {
  Json j = begin_json("fit");
  j["slope"] = f.slope;
  j["log_a"] = f.log_a;
  j["deviation_log_n"] = f.deviation;
  j["tolerance_factor"] = f.tolerance_factor;
  j["design_log_a"] = f.design_log_a;
  j["mean_mpa_2e6"] = f.mean_mpa_2e6;
  j["design_mpa_2e6"] = f.design_mpa_2e6;
  j["failures"] = f.failures;
  j["run_outs"] = f.run_outs;
  j["residuals"] = f.residuals;
  j["outliers"] = f.outliers;
  j["evidence"] = json_of(f.evidence);
  return end_json(j);
}

}  // namespace seamwright::reports
