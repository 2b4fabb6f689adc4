// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>

#include "catalog/figures/figures.h"
#include "catalog/published/published_data.h"
#include "engine/loads/stability.h"
#include "engine/measured/rig_rating.h"
#include "engine/strength/peak_rating.h"
#include "engine/study/throat_needs.h"
#include "reports/content/cycles_blocks.h"
#include "reports/content/frame_blocks.h"
#include "reports/content/measured_blocks.h"
#include "reports/content/ride_blocks.h"
#include "reports/content/study_blocks.h"
#include "reports/render/json.h"
#include "reports/render/json_parts.h"

namespace seamwright::reports {

namespace {

Json six_values(const Eigen::VectorXd& v, Eigen::Index from) {
  Json j = Json::array();
  for (Eigen::Index k = 0; k < 6; ++k) j.push_back(v[from + k]);
  return j;
}

}  // namespace

std::string to_json(const figures::FigureResult& r, const published::Catalog& catalog) {
  Json j = begin_json("figure");
  j["catalog_sha256"] = catalog.sha256;
  j["figure"] = r.figure;
  if (r.values.size() == 1) {
    j["value"] = r.values[0].value;
    j["unit"] = r.values[0].unit;
  } else {
    j["value"] = Json::object();
    j["unit"] = Json::object();
    for (const figures::NamedValue& v : r.values) {
      j["value"][v.name] = v.value;
      j["unit"][v.name] = v.unit;
    }
  }
  j["evidence"] = json_of(r.evidence);
  return end_json(j);
}

std::string to_json(const std::string& what, const frame::Assembly& a, const frame::Solution& s) {
  Json j = begin_json("solution");
  j["case"] = what;
  j["nodes"] = Json::object();
  const Eigen::VectorXd u = s.displacements.col(0), r = s.reactions.col(0);
  for (std::size_t i = 0; i < a.node_ids.size(); ++i)
    j["nodes"][a.node_ids[i]] = six_values(u, 6 * static_cast<Eigen::Index>(i));
  j["members"] = Json::object();
  for (const frame::Element& e : a.elements) {
    const Eigen::VectorXd f = frame::section_forces(e, u);
    j["members"][e.id] = {{"start", six_values(f, 0)}, {"end", six_values(f, 6)}};
  }
  j["reactions"] = Json::object();
  for (const Eigen::Index dof : a.held_dofs) {
    const auto node = static_cast<std::size_t>(dof / 6);
    j["reactions"][a.node_ids[node]] = six_values(r, 6 * static_cast<Eigen::Index>(node));
  }
  j["residual"] = s.residual[0];
  return end_json(j);
}

std::string to_json(const std::vector<NamedModes>& all) {
  Json j = begin_json("modes");
  j["states"] = Json::array();
  for (const NamedModes& state : all) {
    Json s{{"on", state.where}, {"payload_kg", state.payload_kg}, {"modes", Json::array()}};
    const Eigen::Index free = free_motions(state.modes);
    for (Eigen::Index i = 0; i < state.modes.frequency_hz.size(); ++i)
      s["modes"].push_back({{"number", i < free ? Json() : Json(i - free + 1)},
                            {"frequency_hz", state.modes.frequency_hz[i]},
                            {"moves_most", most_moving(*state.assembly, state.modes.shapes.col(i))}});
    j["states"].push_back(std::move(s));
  }
  return end_json(j);
}

std::pair<std::string, std::string> json_around_cycles(const std::vector<double>& residue) {
  Json j = begin_json("cycles");
  j["cycles"] = Json::array();
  j["residue"] = residue;
  const std::string whole = end_json(j), none = "\"cycles\": []";
  const std::size_t at = whole.find(none) + none.size() - 1;
  return {whole.substr(0, at), "\n " + whole.substr(at)};
}

std::string json_of_cycle(const cycles::Cycle& c, bool first) {
  const std::string row = Json{{"range", c.range()}, {"mean", c.mean()}, {"count", c.count}}.dump(1);
  std::string out = first ? "\n  " : ",\n  ";
  for (const char letter : row) out.append(letter == '\n' ? "\n  " : std::string(1, letter));
  return out;
}

namespace {

Json numbers(const Eigen::VectorXd& v) { return std::vector<double>(v.data(), v.data() + v.size()); }

Json json_of(const signal::ChannelSurvey& s, const files::RecordedChannel& c) {
  return {{"name", c.name},
          {"unit", c.unit},
          {"mean", s.mean},
          {"deviation", s.deviation},
          {"least", s.least},
          {"most", s.most},
          {"missing", s.missing},
          {"clipped_share", s.clipped_share},
          {"longest_stuck_s", s.longest_stuck_s},
          {"spikes", s.spikes},
          {"drift", s.drift},
          {"aliasing_share", s.aliasing_share},
          {"frequency_hz", numbers(s.frequency_hz)},
          {"density", numbers(s.density)},
          {"range_class_width", s.ranges.width},
          {"cycles", s.ranges.cycles},
          {"largest_range", s.ranges.largest}};
}

}  // namespace

std::string to_json(const std::vector<measured::RigResult>& rigs) {
  Json j = begin_json("rig");
  j["cases"] = Json::array();
  for (const measured::RigResult& r : rigs) {
    if (!r.not_applicable.empty()) {
      j["cases"].push_back({{"id", r.id}, {"not_applicable", r.not_applicable}});
      continue;
    }
    j["cases"].push_back({{"id", r.id},
                          {"cycles", r.cycles},
                          {"from_memory", r.from_memory},
                          {"weld", r.weld},
                          {"site", r.site},
                          {"damage", r.damage},
                          {"passes", r.passes},
                          {"uncovered", r.uncovered},
                          {"service_weld", r.service_weld},
                          {"service_site", r.service_site},
                          {"service_damage", r.service_damage},
                          {"rig_damage_there", r.rig_damage_there},
                          {"equal_cycles", r.equal_cycles},
                          {"equal_force", r.equal_force},
                          {"residual", r.residual}});
  }
  return end_json(j);
}

std::string to_json(const measured::GaugePlan& plan, const std::optional<measured::GaugeResult>& readings) {
  Json j = begin_json("gauges");
  j["channels"] = Json::array();
  for (std::size_t c = 0; c < plan.channels.size(); ++c)
    j["channels"].push_back({{"id", plan.channels[c].id},
                             {"level", plan.channels[c].level},
                             {"unit", plan.channels[c].unit},
                             {"error", plan.error[static_cast<Eigen::Index>(c)]}});
  j["gauges"] = Json::array();
  for (std::size_t k = 0; k < plan.gauges.size(); ++k) {
    const measured::GaugePlace& g = plan.gauges[k];
    j["gauges"].push_back(
        {{"member", g.element},
         {"share", g.share},
         {"angle_deg", g.angle_deg},
         {"axis_deg", g.axis_deg},
         {"place_mm", {g.place_mm.x(), g.place_mm.y(), g.place_mm.z()}},
         {"microstrain", numbers(plan.microstrain.row(static_cast<Eigen::Index>(k)).transpose())}});
  }
  if (readings) {
    j["load_factor"] = readings->load_factor;
    j["load_scatter"] = readings->load_scatter;
    j["measured"] = Json::array();
    for (const measured::ChannelFactor& c : readings->channels)
      j["measured"].push_back(
          {{"channel", c.channel}, {"readings", c.readings}, {"factor", c.factor}, {"scatter", c.scatter}});
  }
  return end_json(j);
}

std::string to_json(const study::Recalibration& r) {
  const auto estimate = [](const measured::Estimate& e) {
    return Json{{"value", e.value}, {"low", e.low}, {"high", e.high}};
  };
  Json j = begin_json("calibration");
  j["factor"] = estimate(r.calibration.factor);
  j["scatter"] = estimate(r.calibration.scatter);
  j["bounded"] = r.calibration.bounded;
  j["posterior_factor"] = estimate(r.calibration.posterior_factor);
  j["posterior_scatter"] = estimate(r.calibration.posterior_scatter);
  j["narrowing"] = r.calibration.narrowing;
  j["load_bias_before"] = r.before.rules.load_bias;
  j["load_bias_after"] = r.after.rules.load_bias;
  j["life_km_before"] = r.before.welds[0].sites[0].life_km;
  j["life_km_after"] = r.after.welds[0].sites[0].life_km;
  return end_json(j);
}

std::string to_json(const files::Ride& r) {
  Json j = begin_json("ride");
  j["rate_hz"] = r.survey.rate_hz;
  j["duration_s"] = r.survey.duration_s;
  j["understood"] = {{"separator", std::string(1, r.recording.separator)},
                     {"decimal_comma", r.recording.decimal_comma},
                     {"header_line", r.recording.header_line},
                     {"time_column", r.recording.time_column},
                     {"time_kind", files::name_of(r.recording.time_kind)},
                     {"rows", r.survey.rows},
                     {"mean_rate_hz", r.survey.mean_rate_hz},
                     {"median_interval_s", r.survey.median_interval_s}};
  j["channels"] = Json::array();
  for (std::size_t c = 0; c < r.survey.channels.size(); ++c)
    j["channels"].push_back(json_of(r.survey.channels[c], r.recording.channels[c]));
  j["gaps"] = Json::array();
  for (const signal::Gap& g : r.survey.gaps)
    j["gaps"].push_back({{"from_s", g.from_s}, {"seconds", g.seconds}});
  j["checks"] = Json::array();
  for (const Message& m : ride_checks(r)) j["checks"].push_back(json_of(m));
  if (r.road)
    j["road"] = {{"class", r.road_class},
                 {"gd_n0_m3", r.road->gd_n0_m3},
                 {"measured_rms_m_s2", r.road->measured_rms_m_s2},
                 {"from_hz", r.road->from_hz},
                 {"to_hz", r.road->to_hz}};
  if (r.damage)
    j["damage"] = {{"curve", r.curve},
                   {"damage", r.damage->damage},
                   {"largest_range_mpa", r.damage->largest_mpa},
                   {"life_km", r.damage->life_km > 0 ? Json(r.damage->life_km) : Json()}};
  return end_json(j);
}

std::string to_json(const strength::PeakRatings& peaks) {
  Json j = begin_json("peaks");
  j["cases"] = Json::array();
  for (const strength::PeakRating& p : peaks.cases) {
    Json checks = Json::array();
    for (const strength::StrengthCheck& c : p.checks)
      checks.push_back(
          {{"kind", c.kind}, {"subject", c.subject}, {"use", c.use}, {"evidence", json_of(c.evidence)}});
    j["cases"].push_back({{"id", p.load.id},
                          {"payload_kg", p.load.pose.payload_kg},
                          {"member", p.element},
                          {"stress_mpa", p.stress_mpa},
                          {"yield_mpa", p.yield_mpa > 0 ? Json(p.yield_mpa) : Json()},
                          {"use", p.use},
                          {"checks", std::move(checks)},
                          {"evidence", json_of(p.load.evidence)}});
  }
  j["missing"] = peaks.missing;
  return end_json(j);
}

std::string to_json(const std::vector<study::ThroatNeed>& needs) {
  Json j = begin_json("throats");
  j["method"] = "spectral";
  j["welds"] = Json::array();
  for (const study::ThroatNeed& n : needs)
    j["welds"].push_back({{"id", n.weld},
                          {"site", n.site},
                          {"throat_mm", n.throat_mm},
                          {"used", n.used},
                          {"needed_mm", std::isinf(n.needed_mm) ? Json() : Json(n.needed_mm)},
                          {"at_most", n.at_most},
                          {"bound", n.bound},
                          {"leg_crown_mm", std::isfinite(n.leg_crown_mm) ? Json(n.leg_crown_mm) : Json()},
                          {"leg_saddle_mm", std::isfinite(n.leg_saddle_mm) ? Json(n.leg_saddle_mm) : Json()}});
  return end_json(j);
}

std::string to_json(const loads::Stability& s, double friction) {
  Json j = begin_json("stability");
  j["friction"] = friction;
  j["lowest_m_s2"] = s.lowest_m_s2;
  j["tips_at_rest"] = s.tips_at_rest;
  j["cases"] = Json::array();
  for (const loads::StabilityCase& c : s.cases)
    j["cases"].push_back(
        {{"payload_kg", c.pose.payload_kg},
         {"steering_deg", c.pose.steering_deg},
         {"slides_first", loads::slides_first(c, friction)},
         {"mass_kg", c.mass_kg},
         {"centre_mm", {c.stance.centre_mm.x(), c.stance.centre_mm.y(), c.stance.centre_mm.z()}},
         {"tip_left_m_s2", c.left.acceleration_m_s2},
         {"tip_right_m_s2", c.right.acceleration_m_s2},
         {"turn_radius_mm", c.turn_radius_mm},
         {"tip_speed_kmh", c.speed_kmh},
         {"tilt_left_deg", c.left.tilt_deg},
         {"tilt_right_deg", c.right.tilt_deg},
         {"rear_lifts_m_s2", c.forward_m_s2},
         {"front_lifts_m_s2", c.backward_m_s2},
         {"evidence", json_of((c.pose.steering_deg < 0 ? c.right : c.left).evidence)}});
  return end_json(j);
}

}  // namespace seamwright::reports
