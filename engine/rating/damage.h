// SPDX-License-Identifier: GPL-3.0-or-later
// The service does this to every site in a year: the damage, how well it is known, and where it comes from.
#pragma once

#include "engine/rating/kept_counts.h"
#include "engine/rating/parts.h"

namespace seamwright::rating {

struct Damage {
  Parts parts;                                   ///< each load counted alone
  Eigen::ArrayXd per_year, per_year_unfactored;  ///< per site, mean over the realisations, with all factors
                                                 ///< on stress and without any; of checks each load counted alone
  Eigen::ArrayXd half_width;  ///< per site: of the mean's 95 % interval, relative; NaN for one realisation
  Eigen::ArrayXd largest_range_mpa;             ///< per site, without factors
  std::vector<RangeBins> ranges;                ///< per site, of a year; empty in the frequency domain
  std::vector<std::vector<double>> lift_share;  ///< per trip and leg that was ridden in steps; else NaN
  std::size_t realisations = 0;                 ///< of random road; 1 in the frequency domain
  double confidence = 0;                        ///< the half width where the damage is largest
  /// Per site: how much more damage joints that give way do than rigid ones, at least 1, already in all of
  /// the above; empty where the job does not ask for both.
  Eigen::ArrayXd giving_over_rigid;
};

/// Counts by histories (in batches of seeds until the governing damage is known well enough, or there are no
/// more) or by parts alone. giving: the same job with joints that give way, or null. What was counted before comes
/// from the memory, and histories from `kept` where there is one. Throws RatingStopped.
Damage damage_of(const Job& job, const Service& service, const Service* giving, Method method,
                 const Progress& progress, Memory& memory, CountStore* kept = nullptr);

/// Cycles and damage of a year at one site by range: as counted, or of the parts.
RangeBins ranges_at(const Job& job, const Service& service, const Damage& damage, std::size_t site);

}  // namespace seamwright::rating
