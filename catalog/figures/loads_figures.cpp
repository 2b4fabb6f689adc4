// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/figures/subjects.h"
#include "catalog/published/published_data.h"
#include "engine/loads/road.h"
#include "engine/loads/stability.h"
#include "engine/loads/tyre.h"
#include "engine/loads/wheel_loads.h"

namespace seamwright::figures {

namespace {

loads::Road road_of(const Arguments& a, const published::Catalog& catalog) {
  loads::Road road;
  road.id = "road";
  road.waviness = a.number("waviness");
  if (a.has("gd_n0_m3")) {
    road.gd_n0_m3 = a.number("gd_n0_m3");
    return road;
  }
  const published::RoadClass* found = published::find_road_class(catalog, a.text_of("class"));
  road.road_class = found->id;
  road.gd_n0_m3 = found->mean_m3;
  return road;
}

FigureResult road_psd(const Arguments& a, const published::Catalog& catalog) {
  const loads::RoadPsdResult r =
      loads::road_psd(road_of(a, catalog), a.number("frequency_hz"), a.number("speed_kmh") / 3.6);
  return {"road-psd",
          {{"displacement_in_space", r.gd_m3, "m3"},
           {"displacement", r.gd_m2_hz, "m2/Hz"},
           {"velocity", r.velocity_m2_s, "m2/s"},
           {"acceleration", r.acceleration_m2_s3, "m2/s3"}},
          r.evidence};
}

FigureResult track_coherence(const Arguments& a, const published::Catalog&) {
  loads::Road road;
  road.id = "road";
  road.gd_n0_m3 = 1e-6;  // drops out
  road.waviness = a.number("waviness");
  const double cycles_m = a.number("cycles_m", 0, 1e3), apart_mm = a.number("apart_mm", 0, 1e5);
  const double value = loads::track_coherence(road, cycles_m, apart_mm / 1000);
  Evidence e;
  e.figure = std::string("track-coherence");
  e.value = value;
  e.source = {"dodds-robson-1973", "isotropic surface; closed form derived for a power law"};
  e.from_memory = true;
  e.inputs = {{"cycles", cycles_m, "cycles/m"}, {"apart", apart_mm, "mm"}, {"waviness", road.waviness, ""}};
  return {
      "track-coherence", {{"cross_over_direct", value, ""}, {"ordinary_coherence", value * value, ""}}, e};
}

FigureResult wheel_loads(const Arguments& a, const published::Catalog&) {
  const loads::WheelLoads r =
      loads::wheel_loads({a.number("mass_kg"), a.number("wheelbase_mm"), a.number("track_mm"),
                          a.number("centre_behind_front_axle_mm"), a.number("centre_left_mm")});
  return {
      "wheel-loads",
      {{"front_left", r.front_left_n, "N"}, {"front_right", r.front_right_n, "N"}, {"rear", r.rear_n, "N"}},
      r.evidence};
}

loads::Stance stance_of(const Arguments& a) {
  const double base = a.number("wheelbase_mm", 1, 1e5), half = a.number("track_mm", 1, 1e5) / 2;
  loads::Stance s;
  s.front_left_mm = {base, half};
  s.front_right_mm = {base, -half};
  s.rear_mm = {0, 0};
  s.centre_mm = {base - a.number("centre_behind_front_axle_mm", 0, 1e5),
                 a.number("centre_left_mm", -1e5, 1e5), a.number("centre_height_mm", 1, 1e5)};
  return s;
}

FigureResult side_tip(const Arguments& a, const published::Catalog&) {
  const loads::TipResult r =
      loads::side_tip(stance_of(a), a.text_of("turn") == "left", a.number("braking_m_s2", -20, 20));
  return {
      "side-tip", {{"acceleration", r.acceleration_m_s2, "m/s2"}, {"tilt", r.tilt_deg, "deg"}}, r.evidence};
}

FigureResult pitch_tip(const Arguments& a, const published::Catalog&) {
  const loads::Stance s = stance_of(a);
  Evidence e;
  e.figure = std::string("pitch-tip");
  e.value = loads::forward_tip_m_s2(s);
  e.unit = "m/s2";
  e.source = {"statics", "moments about the front contacts and about the rear contact"};
  e.inputs = {{"centre_behind_front_axle", a.number("centre_behind_front_axle_mm"), "mm"},
              {"wheelbase", a.number("wheelbase_mm"), "mm"},
              {"centre_height", a.number("centre_height_mm"), "mm"}};
  return {"pitch-tip",
          {{"rear_lifts", e.value, "m/s2"}, {"front_lifts", loads::backward_tip_m_s2(s), "m/s2"}},
          e};
}

FigureResult tyre_stiffness(const Arguments& a, const published::Catalog&) {
  const loads::TyreResult r =
      loads::tyre_stiffness(a.number("pressure_kpa"), a.number("radius_mm"), a.number("section_radius_mm"));
  return {"tyre-stiffness", {{"radial_stiffness", r.radial_n_mm, "N/mm"}}, r.evidence};
}

std::vector<Parameter> stance_parameters() {
  return {needed_parameter("wheelbase_mm", "mm"), needed_parameter("track_mm", "mm"),
          needed_parameter("centre_behind_front_axle_mm", "mm"), needed_parameter("centre_height_mm", "mm"),
          defaulted_parameter("centre_left_mm", "mm", "0")};
}

}  // namespace

std::vector<Figure> load_figures() {
  std::vector<Parameter> side = stance_parameters();
  side.push_back(choice_parameter("turn", {"left", "right"}, "left"));
  side.push_back(defaulted_parameter("braking_m_s2", "m/s2", "0"));
  return {{"side-tip", side, {"statics", "moments about the line of outer front and rear contact"}, side_tip},
          {"pitch-tip",
           stance_parameters(),
           {"statics", "moments about the front contacts and about the rear contact"},
           pitch_tip},
          {"road-psd",
           {choice_parameter("class", {"A", "B", "C", "D", "E", "F", "G", "H"}, "C"),
            optional_parameter("gd_n0_m3", "m3"), defaulted_parameter("waviness", "", "2"),
            needed_parameter("frequency_hz", "Hz"), needed_parameter("speed_kmh", "km/h")},
           {"iso-8608-2016", "Annex B, Annex C"},
           road_psd},
          {"track-coherence",
           {needed_parameter("cycles_m", "cycles/m"), needed_parameter("apart_mm", "mm"),
            defaulted_parameter("waviness", "", "2")},
           {"dodds-robson-1973", "isotropic surface"},
           track_coherence},
          {"tyre-stiffness",
           {needed_parameter("pressure_kpa", "kPa"), needed_parameter("radius_mm", "mm"),
            needed_parameter("section_radius_mm", "mm")},
           {"rothhamel-2023", "range measured; formula derived from the contact's ellipse"},
           tyre_stiffness},
          {"wheel-loads",
           {needed_parameter("mass_kg", "kg"), needed_parameter("wheelbase_mm", "mm"),
            needed_parameter("track_mm", "mm"), needed_parameter("centre_behind_front_axle_mm", "mm"),
            defaulted_parameter("centre_left_mm", "mm", "0")},
           {"statics", "equilibrium of forces and moments"},
           wheel_loads}};
}

}  // namespace seamwright::figures
