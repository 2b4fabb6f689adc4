// SPDX-License-Identifier: GPL-3.0-or-later
// IIW recommendations of 2008 (document 1823): safety on stress and in the limiting sum, shear on a class of
// its own with squares of the uses of strength. Values from memory; which case of use takes which factor is
// an assumption of this project.
#include <algorithm>
#include <cmath>

#include "engine/rules/plate_surface.h"
#include "engine/rules/rule_sets.h"
#include "engine/rules/safety.h"

namespace seamwright::rules {

namespace {

constexpr double limit_of_fluctuating_mean = 0.2, limit_of_other_amplitudes = 0.5;

// Combined direct and shear stress [from memory]: squares of the uses of strength add to at most 0.5 (not
// proportional, variable amplitudes); here as the damage of slope 3 that uses as much; shear below 15 % of
// the direct stress is left out.
double squares_of_uses(const TwoDamages& both) {
  if (both.largest_shear_mpa < 0.15 * both.largest_direct_mpa) return both.direct;
  const double use = std::pow(both.direct / both.limit, 2.0 / 3) + std::pow(both.shear / both.limit, 2.0 / 5);
  return std::max(both.direct, both.limit * std::pow(use / 0.5, 1.5));
}

// Case I of the stress ratio [from memory]: the range over f(R): 1.6 below R = -1 and wholly in compression,
// 1.2 - 0.4 R up to R = 0.5, then 1.
double over_case_1(double least, double most) {
  const auto factor = [&] {
    if (!(most > 0)) return 1.6;
    const double ratio = least / most;
    if (ratio < -1) return 1.6;
    return ratio <= 0.5 ? 1.2 - 0.4 * ratio : 1;
  };
  return (most - least) / factor();
}

// Tube with a step at a girth weld [from memory]: 1 + 6 e/(t (1 - nu^2)) t^1.5/(t^1.5 + t2^1.5) with nu =
// 0.3, over the 1.15 that the class of a butt weld made in the shop holds already.
double beyond_the_class(const OffsetWalls& w) {
  constexpr double poisson = 0.3, held_by_class = 1.15;
  return (1 + 6 * w.offset_mm / (w.wall_mm * (1 - poisson * poisson)) * w.share) / held_by_class;
}

// Both limiting sums at the governing weld; the verdict stands on the lower one.
std::vector<Message> institute_notes(const Rules& asked, const Safety& safety, const GoverningLife& g) {
  std::vector<Message> notes;
  if (asked.partial_factor <= 0) notes.push_back(partial_factor_assumed(iiw, safety));
  if (asked.damage_limit <= 0 && !g.weld.empty())
    notes.push_back(
        {"rating.iiw-limits",
         {text("weld", g.weld), number("damage", g.damage, ""), number("life", g.life_km, "km"),
          number("life_half", g.life_km * limit_of_other_amplitudes / safety.damage_limit, "km")}});
  return notes;
}

}  // namespace

constinit const RuleSet iiw{
    .name = "iiw",
    // gamma_M [from memory].
    .partial_factor = ByConsequence{{1.0, 1.15}, {1.15, 1.30}, {1.30, 1.40}},
    .design_fatigue_factor = {},
    .damage_limit = limit_of_fluctuating_mean,
    .joined_damage = squares_of_uses,
    .effective_range = over_case_1,
    .throat = {{"iiw-1823", "detail no. 414"}, 0},
    .joins_torsion = false,
    .hole_class_is_net = false,
    .misalignment = {{"iiw-1823", "misalignment of a tube at a girth weld"}, beyond_the_class},
    .hot_spot = {{"iiw-1823", "2.2.3.4, type a, fine mesh"}, plate_surface_points},
    .below_mean = 2,
    .scatter_log_n = 0.25,
    .notes = institute_notes,
};

}  // namespace seamwright::rules
