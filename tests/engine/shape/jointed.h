// SPDX-License-Identifier: GPL-3.0-or-later
// Designs of a chord with braces on it, for tests of what is cut.
#pragma once

#include <cmath>
#include <numbers>

#include "engine/design/design.h"
#include "engine/shape/cope.h"
#include "engine/shape/plan.h"
#include "tests/engine/shape/tubes.h"

namespace seamwright::shape {

inline void round_tube(design::Design& d, const std::string& id, double diameter, double wall) {
  d.frame.tubes.push_back({id, frame::RoundTube{diameter, wall}, "steel"});
}

/// A chord along x through the origin, and a brace from the node "o" at an angle from the chord's end in the
/// plane of x and z, its axis beside the chord's by `aside`; 400 mm long.
inline design::Design tee(double chord_mm, double brace_mm, double wall_mm, double angle_deg = 90,
                          double aside_mm = 0) {
  design::Design d;
  round_tube(d, "C", chord_mm, 2);
  round_tube(d, "B", brace_mm, wall_mm);
  for (const auto& [id, x] : {std::pair("w", -600.0), {"o", 0.0}, {"e", 600.0}})
    node(d.frame, id, Vec3(x, 0, 0));
  member(d.frame, "chord", "C", {"w", "o", "e"});
  const double a = angle_deg * std::numbers::pi / 180;
  member(d.frame, "brace", "B", {"o", node(d.frame, "top", 400 * Vec3(std::cos(a), 0, std::sin(a)))});
  d.frame.members.back().start_offset_mm = d.frame.members.back().end_offset_mm = Vec3(0, aside_mm, 0);
  d.welds.push_back(weld("W1", "brace", "o", "chord"));
  return d;
}

inline const Blank& blank_named(const std::vector<Blank>& all, const std::string& member) {
  for (const Blank& b : all)
    if (b.member == member) return b;
  FAIL("no such member");
  return all.front();
}

inline std::vector<Blank> blanks_of(const design::Design& d) { return blanks_of(d, plan_of(d)); }

/// The brace's end on the chord.
inline TubeEnd foot_end(const design::Design& d) { return blank_named(blanks_of(d), "brace").start; }

}  // namespace seamwright::shape
