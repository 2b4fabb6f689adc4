// SPDX-License-Identifier: GPL-3.0-or-later
// A rating together with the ranges that it counted, for who works on with them.
#pragma once

#include "engine/rating/range_bins.h"
#include "engine/rating/rate.h"

namespace seamwright::rating {

/// Cycles and damage of a year at one site: as counted, or of the parts.
struct SiteRanges {
  std::string weld, site;
  RangeBins ranges;
};
struct RatingWithRanges : Rating {
  std::vector<SiteRanges> ranges;  ///< each site once; welds stand in another order than in the rating
};
/// Rates as rate() does, and keeps the ranges.
RatingWithRanges rate_with_ranges(const Job& job, const rules::Published& published, Method method, const Progress& progress,
                                  const std::string& explained = {}, Known known = {});

}  // namespace seamwright::rating
