// SPDX-License-Identifier: GPL-3.0-or-later
// Damage of one trip at every site by rainflow of its whole history.
#pragma once

#include "engine/rating/range_bins.h"
#include "engine/rating/rate.h"
#include "engine/rating/service.h"

namespace seamwright::rating {

struct TripDamage {
  std::vector<RangeBins> ranges;             ///< per site and trip, damage with the stress factor
  std::vector<double> factored, unfactored;  ///< per site and trip; the first with the stress factor
  std::vector<double> largest_range_mpa;
  std::vector<double> lift_share;  ///< per leg ridden in steps: largest of its wheels; else NaN
};

/// Counts one kind of trip as it repeats, one realisation per seed name: the legs one after the other with
/// their manoeuvres on top of the road, and in between the obstacles, each from rest to rest.
TripDamage count_trip(const Service& service, std::size_t trip, const std::string& seed,
                      const Progress& progress, double progress_from, double progress_to);

}  // namespace seamwright::rating
