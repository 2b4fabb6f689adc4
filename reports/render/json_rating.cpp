// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "engine/rating/rate.h"
#include "reports/render/json.h"
#include "reports/render/json_parts.h"

namespace seamwright::reports {

namespace {

Json json_of(const rating::RatingLikelihood& l) {
  if (l.places == 0) return nullptr;
  return {{"probability", l.frame.probability},
          {"index", l.frame.index},
          {"fully_correlated", l.frame.lower},
          {"independent", l.frame.upper},
          {"target_index", l.target_index},
          {"target_probability", l.target_probability},
          {"simulated", l.simulated.standard_error > 0 ? Json(l.simulated.probability) : Json()},
          {"places", l.places},
          {"uncovered", l.uncovered}};
}

Json json_of(const fatigue::Prediction& p, double service_km) {
  if (std::isnan(p.life.median)) return nullptr;
  return {{"life_km", p.life.median * service_km},
          {"life_km_low", p.life.low * service_km},
          {"life_km_high", p.life.high * service_km},
          {"life_km_first_tenth", p.life.first_tenth * service_km},
          {"cracked_of_1000", 1000 * p.cracked.mean},
          {"cracked_of_1000_low", 1000 * p.cracked.low},
          {"cracked_of_1000_high", 1000 * p.cracked.high}};
}

Json json_of(const rating::LoadQuestion& q, double service_km) {
  if (q.weld.empty()) return nullptr;
  return {{"weld", q.weld},
          {"unmeasured_share", q.unmeasured},
          {"largest", {{"leg", q.largest.leg}, {"source", q.largest.source}, {"share", q.largest_share}}},
          {"life_km_low", q.life_low * service_km},
          {"life_km_high", q.life_high * service_km}};
}

Json json_of(const rating::LoadPath& p) {
  if (!p.known) return nullptr;
  return {{"other", p.other()}, {"mechanism", p.mechanism}, {"use", p.use}, {"case", p.load_case}, {"element", p.element}};
}

Json json_of(const rating::LimitState& s) {
  return {{"kind", name_of(s.kind)},       {"weld", s.weld},
          {"probability", s.probability},  {"index", s.index},
          {"target_index", s.target_index}, {"target_probability", s.target_probability},
          {"met", s.met()}};
}

Json json_of(const rating::Budget& b) {
  if (b.rows.empty()) return nullptr;
  Json j{{"weld", b.weld}, {"slope", b.slope}, {"deviation_ln_life", b.deviation}, {"rows", Json::array()}};
  for (const rating::BudgetRow& row : b.rows)
    j["rows"].push_back({{"source", name_of(row.source)},
                         {"shared", row.shared},
                         {"acts_on", row.of_stress ? "stress" : "life"},
                         {"deviation_ln", row.deviation},
                         {"deviation_ln_life", row.of_life},
                         {"share_of_variance", row.share},
                         {"origin", name_of(row.origin)},
                         {"from_memory", row.from_memory},
                         {"from", {{"key", row.from.key}, {"clause", row.from.clause}}}});
  return j;
}

Json json_of(const rating::RiderBound& b) {
  if (b.frequency_hz == 0) return {};
  return {{"instead_of_hz", b.frequency_hz}, {"verdict", name_of(b.verdict)}, {"weld", b.weld}, {"life_km_predicted", b.life_km}};
}

Json json_of(const rating::CrackGrowth& g, double missed_share) {
  return {{"site", g.site}, {"from_mm", g.from_mm}, {"to_mm", g.to_mm}, {"km", g.km}, {"missed_share", missed_share}};
}

Json json_of(const design::Identity& i) {
  return {{"name", i.name}, {"revision", i.revision}, {"sha256", i.sha256}};
}

Json json_of(const rating::SiteRating& s) {
  return {{"site", s.site},
          {"kind", s.kind},
          {"angle_deg", s.angle_deg},
          {"curve", s.curve},
          {"life_km_predicted", s.life_km_predicted},
          {"damage_unfactored", s.damage_unfactored},
          {"allowed_damage", s.allowed_damage},
          {"damage", s.damage},
          {"life_km", s.life_km},
          {"largest_range_mpa", s.largest_range_mpa},
          {"coverage", name_of(s.coverage)},
          {"at_least", s.at_least},
          {"verdict", name_of(s.verdict)}};
}

// A site comes with its whole chain.
Json explained(const rating::SiteRating& s) {
  Json j = json_of(s);
  j["damage_half_width"] = s.damage_spread;
  j["damage_share"] = s.damage_share;
  j["elastic_over_quasi_static"] = s.elastic_over_quasi_static;
  j["evidence"] = reports::json_of(s.evidence);
  return j;
}

// The chain stands once for each weld, behind its first site; where a weld is asked for, behind the first of each kind.
Json sites_of(const rating::WeldRating& w, bool each_kind) {
  Json sites = Json::array();
  std::vector<std::string> told;
  for (const rating::SiteRating& s : w.sites) {
    const bool first = sites.empty() || (each_kind && std::find(told.begin(), told.end(), s.kind) == told.end());
    if (first) told.push_back(s.kind);
    sites.push_back(first ? explained(s) : json_of(s));
  }
  return sites;
}

Json json_of(const loads::Pose& p) {
  return {{"payload_kg", p.payload_kg},
          {"payload_ahead_mm", p.payload_ahead_mm},
          {"payload_left_mm", p.payload_left_mm},
          {"steering_deg", p.steering_deg}};
}

Json json_of(const rating::LegReport& l) {
  return {{"trip", l.trip},
          {"id", l.id},
          {"road", l.road},
          {"pose", json_of(l.pose)},
          {"speed_kmh", l.speed_kmh},
          {"distance_km", l.distance_km},
          {"seat_acceleration_rms_m_s2", l.levels.seat_acceleration_rms_m_s2},
          {"box_acceleration_rms_m_s2", l.box_acceleration_rms_m_s2},
          {"lift_share", l.levels.lift_share.maxCoeff()},
          {"counted_lift_share", l.counted_lift_share}};
}

Json json_of(const rules::Rules& rules) {
  return {{"set", name_of(rules.set)},
          {"consequence", name_of(rules.consequence)},
          {"strategy", name_of(rules.strategy)},
          {"look_every_km", rules.look_every_km},
          {"look_by", name_of(rules.look_by)},
          {"load_bias", rules.load_bias},
          {"load_scatter", rules.load_scatter},
          {"use_share", rules.use_share},
          {"miner_median", rules.miner_median},
          {"miner_scatter", rules.miner_scatter},
          {"load_factor", rules.load_factor},
          {"design_fatigue_factor", rules.design_fatigue_factor},
          {"partial_factor", rules.partial_factor},
          {"damage_limit", rules.damage_limit},
          {"environment_outside", name_of(rules.environment_outside)},
          {"environment_inside", name_of(rules.environment_inside)}};
}

Json json_of(const rating::Rating& r, const std::string& asked_weld) {
  Json j{{"design", json_of(r.design)},
         {"duty", json_of(r.duty)},
         {"rules", json_of(r.rules)},
         {"method", r.method},
         {"range_model", r.range_model},
         {"realisations", r.realisations},
         {"confidence_half_width", r.confidence},
         {"verdict", name_of(r.verdict)},
         {"failure_probability", r.likelihood.places > 0 ? Json(r.likelihood.frame.probability) : Json()},
         {"likelihood", json_of(r.likelihood)},
         {"predicted", json_of(r.predicted, r.service_km)},
         {"loads", json_of(r.loads, r.service_km)},
         {"rigid_rider", json_of(r.rider)},
         {"limit_states", Json::array()},
         {"budget", json_of(r.likelihood.budget)},
         {"service_km", r.service_km},
         {"service_years", r.service_years},
         {"parts", Json::array()},
         {"legs", Json::array()},
         {"shape", Json::array()},
         {"notes", Json::array()},
         {"welds", Json::array()}};
  for (const rating::Part& p : r.parts) j["parts"].push_back({{"leg", p.leg}, {"source", p.source}});
  for (const rating::LegReport& l : r.legs) j["legs"].push_back(json_of(l));
  for (const Message& m : r.shape) j["shape"].push_back(reports::json_of(m));
  for (const Message& m : r.notes) j["notes"].push_back(reports::json_of(m));
  for (const rating::LimitState& s : r.likelihood.limit_states) j["limit_states"].push_back(json_of(s));
  for (const rating::WeldRating& w : r.welds) {
    Json weld{{"id", w.id},
              {"joint", w.joint},
              {"verdict", name_of(w.verdict)},
              {"governing_site", w.governing_site},
              {"life_at_most", w.at_most},
              {"rejected", w.rejected},
              {"crack_probability", w.crack_probability},
              {"load_path", json_of(w.path)},
              {"growth", json_of(w.growth, w.missed_share)},
              {"predicted", json_of(w.predicted, r.service_km)},
              {"sites", sites_of(w, w.id == asked_weld)},
              {"checks", Json::array()}};
    for (const rating::SiteRating& s : w.checks) weld["checks"].push_back(w.id == asked_weld ? explained(s) : json_of(s));
    j["welds"].push_back(std::move(weld));
  }
  return j;
}

}  // namespace

std::string to_json(const std::vector<rating::Rating>& ratings, const std::string& asked_weld) {
  Json j = begin_json("rating", 2);
  j["catalog_sha256"] = ratings.front().catalog_sha256;
  if (ratings.size() == 1) {
    j.update(json_of(ratings.front(), asked_weld));
  } else {
    j["ratings"] = Json::array();
    for (const rating::Rating& r : ratings) j["ratings"].push_back(json_of(r, asked_weld));
  }
  return end_json_tightly(j);
}

}  // namespace seamwright::reports
