// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/wheel_loads.h"

#include <algorithm>
#include <cmath>

#include "engine/evidence/constants.h"
#include "engine/frame/check.h"

namespace seamwright::loads {
namespace {

constexpr double largest_mm = 1e5, largest_kg = 1e6;

void check_geometry(const TrikeGeometry& g) {
  const std::string id = "trike";
  constexpr double shortest_mm = 1;
  frame::check_number("mass_kg", id, g.mass_kg, "kg", 0, largest_kg);
  frame::check_number("wheelbase_mm", id, g.wheelbase_mm, "mm", shortest_mm, largest_mm);
  frame::check_number("track_mm", id, g.track_mm, "mm", shortest_mm, largest_mm);
  frame::check_number("centre_behind_front_axle_mm", id, g.centre_behind_front_axle_mm, "mm", -largest_mm,
                      largest_mm);
  frame::check_number("centre_left_mm", id, g.centre_left_mm, "mm", -largest_mm, largest_mm);
}

}  // namespace

WheelLoads wheel_loads(const TrikeGeometry& g) {
  check_geometry(g);
  const double weight = g.mass_kg * gravity_m_s2;
  const double front = weight * (g.wheelbase_mm - g.centre_behind_front_axle_mm) / g.wheelbase_mm;
  const double shift = weight * g.centre_left_mm / g.track_mm;
  WheelLoads loads;
  loads.front_left_n = front / 2 + shift;
  loads.front_right_n = front / 2 - shift;
  loads.rear_n = weight - front;
  const double least = std::min({loads.front_left_n, loads.front_right_n, loads.rear_n});
  Evidence& e = loads.evidence;
  e.figure = "wheel-load";
  e.value = least;
  e.unit = std::string("N");
  e.source = {"statics", "equilibrium of forces and moments"};
  e.inputs = {{"mass", g.mass_kg, "kg"},
              {"wheelbase", g.wheelbase_mm, "mm"},
              {"track", g.track_mm, "mm"},
              {"centre_behind_front_axle", g.centre_behind_front_axle_mm, "mm"},
              {"centre_left", g.centre_left_mm, "mm"}};
  // Rounding of the whole weight counts as nothing.
  const double zero = 1e-12 * weight;
  e.limits = {limit("least_wheel_load", std::abs(least) < zero ? 0 : least, "N", 0, weight)};
  if (!all_inside(e.limits)) {
    e.coverage = Coverage::none;
    e.notes.push_back({"loads.wheel-lifts", {number("load", least, "N")}});
  }
  return loads;
}

}  // namespace seamwright::loads
