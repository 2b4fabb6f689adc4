// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>

#include "reports/content/test_plan_blocks.h"
#include "reports/render/json.h"
#include "reports/render/json_parts.h"

namespace seamwright::reports {

namespace {

// A number that is not finite becomes null.
Json pair_of(const study::CycleInterval& i, double factor = 1) { return {factor * i.low, factor * i.high}; }

Json json_place(const study::TestPlace& p) {
  return {{"weld", p.weld}, {"site", p.site}, {"mpa_per_n", p.mpa_per_n}, {"cycles", p.cycles}};
}

Json json_piece(const study::Specimen& s) {
  Json j{{"member", s.member}, {"chord", s.chord}, {"procedure", s.procedure}, {"angle_deg", s.angle_deg}, {"throat_mm", s.throat_mm},
         {"leg_crown_mm", s.leg_crown_mm}, {"leg_saddle_mm", s.leg_saddle_mm}, {"lever_mm", s.lever_mm()}};
  j["tubes"] = Json::array();
  for (const study::SpecimenTube& t : s.tubes) {
    const auto* round = std::get_if<frame::RoundTube>(&t.section);
    const auto* bar = std::get_if<frame::SolidBar>(&t.section);
    j["tubes"].push_back({{"member", t.member}, {"diameter_mm", round ? round->diameter_mm : bar ? bar->diameter_mm : 0},
                          {"wall_mm", round ? Json(round->wall_mm) : Json()}, {"length_mm", t.length_mm}, {"use", study::name_of(t.use)}});
  }
  return j;
}

Json json_test(const study::WeldTest& t, const TestPlanReport& r) {
  const double km = r.service_km;
  Json j{{"weld", t.specimen.weld}, {"alike", t.alike}, {"governing_site", t.governing_site}, {"life_km", t.life.median * km}, {"piece", json_piece(t.specimen)}};
  j["force"] = {{"direction", study::name_of(t.force)}, {"range_n", t.force_range_n}, {"least_n", t.least_n}, {"greatest_n", t.greatest_n},
                {"stroke_mm", t.stroke_mm}, {"nominal_mpa", t.nominal_mpa}, {"nominal_member", t.nominal_member}, {"yield_mpa", t.yield_mpa}, {"lowered", t.lowered}};
  j["choices"] = Json::array();
  for (const study::ForceChoice& c : t.choices)
    j["choices"].push_back({{"direction", study::name_of(c.force)}, {"damage_share", c.damage_share}, {"mpa_per_n", c.mpa_per_n}});
  j["place"] = json_place(t.place);
  j["first"] = json_place(t.first);
  j["curve"] = t.curve;
  j["range_mpa"] = t.range_mpa;
  j["slope"] = t.slope;
  j["joint_deviation"] = t.joint_deviation;
  j["curve_deviation_log_n"] = t.curve_deviation / std::log(10.0);
  j["pieces"] = t.pieces;
  j["one_80"] = pair_of(t.one);
  j["mean_80"] = pair_of(t.mean);
  j["run_out"] = t.run_out;
  j["mean_half_width_log_n"] = t.half_width;
  j["joint_deviation_left"] = t.deviation_left;
  j["class_mpa_2e6"] = t.class_mpa_2e6;
  j["outcomes"] = Json::array();
  for (const study::TestOutcome& o : t.outcomes)
    j["outcomes"].push_back({{"cycles_ratio", o.cycles_ratio}, {"joint_bias", o.joint_bias}, {"life_km", o.life * km}, {"life_80_km", pair_of(o.life_interval, km)},
                             {"mean_mpa_2e6", o.mean_mpa_2e6}, {"design_mpa_2e6", o.design_mpa_2e6}});
  j["fit"] = fit_command(t, r.job);
  return j;
}

Json json_rig(const study::RigTest& t) {
  return {{"case", t.rig_case}, {"weld", t.weld}, {"site", t.site}, {"cycles_as_is", t.cycles_as_is}, {"force_factor", t.force_factor},
          {"cycles", t.cycles}, {"one_80", pair_of(t.one)}, {"run_out", t.run_out}, {"equal_cycles", t.equal_cycles},
          {"first_weld", t.first_weld}, {"first_site", t.first_site}, {"share_of_first", t.first_share}};
}

Json json_ride(const study::RideTest& t, double km) {
  Json j{{"weld", t.weld}, {"member", t.member}, {"leg", t.leg}, {"source", t.source}, {"road", t.road}, {"payload_kg", t.payload_kg}, {"speed_kmh", t.speed_kmh},
         {"distance_km", t.distance_km}, {"share", t.largest_share}, {"unmeasured", t.unmeasured}, {"load_factor_80", pair_of(t.expected)}};
  j["outcomes"] = Json::array();
  for (const study::RideOutcome& o : t.outcomes)
    j["outcomes"].push_back({{"load_factor", o.load_factor}, {"life_km", o.life * km}, {"life_80_km", pair_of(o.life_interval, km)}});
  return j;
}

}  // namespace

std::string to_json(const TestPlanReport& r) {
  Json j = begin_json("testplan");
  j["tests"] = Json::array();
  for (const study::WeldTest& t : r.tests.plan.tests) j["tests"].push_back(json_test(t, r));
  j["left_out"] = Json::array();
  for (const Message& m : r.tests.plan.left_out) j["left_out"].push_back(json_of(m));
  j["rig"] = r.tests.rig ? json_rig(*r.tests.rig) : Json();
  j["ride"] = r.tests.ride ? json_ride(*r.tests.ride, r.service_km) : Json();
  return end_json(j);
}

}  // namespace seamwright::reports
