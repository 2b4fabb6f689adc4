// SPDX-License-Identifier: GPL-3.0-or-later
// Somebody looks for cracks: what a crack around a brace takes from the wall to what the rest no longer carries, and how likely
// it is missed until then.
#pragma once

#include "engine/rating/rate.h"

namespace seamwright::rating {

/// A weld's growth from its check beside the rating and its load path; none without them, or where a crack around the brace
/// comes above yield before it is through the wall. Loads at the 90 % point of their scatter: the frames that crack are those
/// that are ridden hard.
CrackGrowth growth_of(const Job& job, const WeldRating& weld, const LoadPath& path);

/// Looks count where at least three of them fall into the growth, and never more than three: whoever missed a crack three times
/// may miss it again. Each finds the crack as it was when it came through the wall, independently of the others. 1 where none counts.
double missed_share(const rules::Rules& rules, const CrackGrowth& growth);

/// A third of the growth, km; NaN where it is not known.
double look_every_km(const CrackGrowth& growth);

}  // namespace seamwright::rating
