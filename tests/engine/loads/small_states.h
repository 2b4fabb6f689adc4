// SPDX-License-Identifier: GPL-3.0-or-later
// Roads, legs and a nearly rigid trike for tests: invented figures.
#pragma once

#include "engine/loads/state.h"
#include "tests/engine/frame/small_frames.h"

namespace seamwright::loads {

/// Geometric mean of class C of ISO 8608:2016 (from memory).
inline Road class_c(Coherence coherence = Coherence::isotropic) {
  Road r;
  r.id = std::string("brick");
  r.road_class = std::string("C");
  r.gd_n0_m3 = 256e-6;
  r.coherence = coherence;
  return r;
}

inline Leg leg_of(double distance_km, double speed_kmh, const std::string& id = "leg") {
  Leg leg;
  leg.id = id;
  leg.road = std::string("brick");
  leg.distance_km = distance_km;
  leg.speed_kmh = speed_kmh;
  return leg;
}

/// Massless, very stiff bars from the wheels to a body of 200 kg at 0.45 m behind the front axle and 0.75 m
/// high, wheelbase 1.30 m, track 0.80 m, Iyy 40, Ixx 20 kg m2. The tyres hold it sideways just enough to be
/// no mechanism, so it rolls about its centre.
inline frame::Frame stiff_trike() {
  using frame::member;
  constexpr double lateral_n_mm = 0.01, radius = 250;
  frame::Material stiff = frame::steel();
  stiff.density_kg_m3 = 0;
  stiff.youngs_mpa = 3e7;
  frame::Frame f = frame::frame_of(frame::RoundTube{160, 40}, stiff);
  f.nodes = {{"FL", {1300, 400, radius}},
             {"FR", {1300, -400, radius}},
             {"R", {0, 0, radius}},
             {"centre", {850, 0, 750}}};
  f.members = {member("axle", {"FL", "FR"}), member("left", {"FL", "centre"}),
               member("right", {"FR", "centre"}), member("rear", {"R", "centre"})};
  f.masses = {{"body", 200, {850, 0, 750}, {"centre"}, {20, 40, 30}}};
  f.wheels = {{"FL", "FL", radius, 100, lateral_n_mm, 250, 0},
              {"FR", "FR", radius, 100, lateral_n_mm, 250, 0},
              {"R", "R", radius, 120, lateral_n_mm, 300, 0}};
  return f;
}

/// A name with a number at its end.
inline std::string numbered(std::string name, int number) {
  name += std::to_string(number);
  return name;
}

/// Row of the coordinates for the vertical motion of a node, mm.
inline Eigen::RowVectorXd rise_row(const State& s, const std::string& node) {
  return s.moving.shapes.row(6 * static_cast<Eigen::Index>(s.assembly.node_index.at(node)) + 2);
}

}  // namespace seamwright::loads
