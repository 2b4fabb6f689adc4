// SPDX-License-Identifier: GPL-3.0-or-later
// Damage against the limit of the rules: for every site its life and verdict, for every weld its worst.
#pragma once

#include "engine/rating/damage.h"

namespace seamwright::rating {

struct Verdicts {
  /// Worst first, each with its sites worst first. Shares, chances and what explains a number follow from
  /// here: they are still empty.
  std::vector<WeldRating> welds;
  std::vector<std::vector<std::size_t>> places;  ///< welds x their sites: the site's place in the service
};
/// Takes the evidence of the service's sites over. Throws Fault "rating.no-site" for a weld without a site, which would be forgotten: a fault of this
/// program.
Verdicts verdicts_of(const Job& job, Service& service, const Damage& damage);

}  // namespace seamwright::rating
