// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/looks.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/design/weld_geometry.h"
#include "engine/fatigue/growth.h"
#include "engine/sites/place_kinds.h"

namespace seamwright::rating {

namespace {
constexpr double least_looks = 3;
}

CrackGrowth growth_of(const Job& job, const WeldRating& weld, const LoadPath& path) {
  CrackGrowth g;
  const auto check = std::find_if(weld.checks.begin(), weld.checks.end(), [](const SiteRating& s) { return sites::place::through_crack == s.kind; });
  const frame::RoundTube* tube = weld.member.empty() ? nullptr : design::round_tube(job.design.frame, weld.member);
  if (!tube || check == weld.checks.end()) return g;
  const double radius = 0.5 * (tube->diameter_mm - tube->wall_mm), girth = 2 * std::numbers::pi * radius;
  const auto whole = fatigue::growth_around(radius, tube->wall_mm, fatigue::breakthrough_share, fatigue::half_the_girth);
  const auto until_yield = fatigue::growth_around(radius, tube->wall_mm, fatigue::breakthrough_share, path.cracked_share);
  if (!whole || !until_yield) return g;
  constexpr double tenth = 1.2815515655446004;  // quantile of the normal distribution
  g.from_mm = fatigue::breakthrough_share * girth;
  g.to_mm = path.cracked_share * girth;
  const double harder = std::exp(fatigue::Paris{}.m * tenth * scatter_of(job.rules).common());
  g.km = check->life_km_unfactored * *until_yield / *whole / harder;
  g.site = check->site;
  return g;
}

double missed_share(const rules::Rules& rules, const CrackGrowth& growth) {
  if (!rules::looks(rules) || !(growth.km >= least_looks * rules.look_every_km)) return 1;
  return std::pow(1 - fatigue::found_share(*rules.look_by, growth.from_mm), least_looks);
}

double look_every_km(const CrackGrowth& growth) { return growth.km / least_looks; }

}  // namespace seamwright::rating
