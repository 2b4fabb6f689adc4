// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/load_question.h"

#include <algorithm>
#include <cmath>

namespace seamwright::rating {

namespace {

bool is_measured(const loads::Duty& duty, const Part& part) {
  if (part.source != "road") return false;
  for (const loads::Leg* leg : loads::all_legs(duty))
    if (leg->id == part.leg)
      return std::any_of(duty.roads.begin(), duty.roads.end(), [&](const loads::Road& road) {
        return road.id == leg->road && !road.profile_left_m.empty();
      });
  return false;
}

}  // namespace

LoadQuestion load_question_of(const Job& job, const Rating& rating, const fatigue::Place& place) {
  constexpr double tenth = 1.2815515655446004;  // quantile of the normal distribution
  const WeldRating& weld = rating.welds[0];
  const std::vector<double>& shares = weld.sites[0].damage_share;
  LoadQuestion q;
  q.weld = weld.id;
  for (std::size_t i = 0; i < rating.parts.size() && i < shares.size(); ++i) {
    if (is_measured(job.duty, rating.parts[i])) continue;
    q.unmeasured += shares[i];
    if (shares[i] <= q.largest_share) continue;
    q.largest_share = shares[i];
    q.largest = rating.parts[i];
  }
  const fatigue::Scatter scatter = scatter_of(job.rules);
  const double spread = tenth * std::hypot(scatter.loads, scatter.use), as_is = fatigue::ln_damage_at(place, 0);
  q.life_low = weld.predicted.life.median * std::exp(as_is - fatigue::ln_damage_at(place, spread));
  q.life_high = weld.predicted.life.median * std::exp(as_is - fatigue::ln_damage_at(place, -spread));
  return q;
}

}  // namespace seamwright::rating
