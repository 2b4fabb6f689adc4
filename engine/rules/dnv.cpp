// SPDX-License-Identifier: GPL-3.0-or-later
// DNV-RP-C203: safety on damage, one stress in the throat, stress read off at fixed distances from a tube's
// toe. Values from memory; which case of use takes which factor is an assumption of this project.
#include <cmath>
#include <numbers>

#include "engine/rules/rule_sets.h"
#include "engine/rules/safety.h"

namespace seamwright::rules {

namespace {

// Both parts are one stress already.
double direct_alone(const TwoDamages& both) { return both.direct; }

// Butt weld in plates with eccentricity [from memory]: 1 + 6 (e - 0.1 t)/(t (1 + (t2/t)^1.5)).
double beyond_a_tenth(const OffsetWalls& w) {
  return 1 + 6 * (w.offset_mm - 0.1 * w.wall_mm) / w.wall_mm * w.share;
}

// Tubular joints [from memory]: a line through two points, the first 0.2 sqrt(r t) from the toe on every
// side; the second 0.65 sqrt(r t) on the brace, 0.4 (r t R T)^0.25 at the chord's crown, 5 degrees around the
// chord at its saddle. Without the floor of 4 mm of other guides, which thin walls cannot keep.
std::vector<ReadOut> tubular_points(const Toe& toe) {
  const double rt = toe.brace_radius_mm * toe.brace_wall_mm, first = 0.2 * std::sqrt(rt);
  double second = 0;
  switch (toe.place) {
    case ToePlace::brace:
      second = 0.65 * std::sqrt(rt);
      break;
    case ToePlace::chord_crown:
      second = 0.4 * std::pow(rt * toe.chord_radius_mm * toe.chord_wall_mm, 0.25);
      break;
    case ToePlace::chord_saddle:
      second = std::numbers::pi * toe.chord_radius_mm / 36;
      break;
  }
  return {{first, second / (second - first)}, {second, -first / (second - first)}};
}

std::vector<Message> veritas_notes(const Rules& asked, const Safety& safety, const GoverningLife&) {
  if (asked.design_fatigue_factor > 0) return {};
  return {{"assumption.design-fatigue-factor", {number("factor", safety.design_fatigue_factor, "")}}};
}

}  // namespace

constinit const RuleSet dnv{
    .name = "dnv",
    .partial_factor = {},
    // DNV-OS-C101 [from memory].
    .design_fatigue_factor = ByConsequence{{1, 2}, {2, 3}, {3, 10}},
    .damage_limit = 1,
    .joined_damage = direct_alone,
    .effective_range = nullptr,
    .throat = {{"dnv-rp-c203-2016", "2.3.5"}, 0.2},
    .joins_torsion = true,  // no rule for it: both added bound the principal stress
    .hole_class_is_net = false,
    .misalignment = {{"dnv-rp-c203-2016", "butt weld in plates with eccentricity"}, beyond_a_tenth},
    .hot_spot = {{"dnv-rp-c203-2016", "stress read off near tubular joints"}, tubular_points},
    .below_mean = 2,
    .scatter_log_n = 0.25,
    .notes = veritas_notes,
};

}  // namespace seamwright::rules
