// SPDX-License-Identifier: GPL-3.0-or-later
// Two ratings side by side.
#pragma once

#include "engine/rating/rate.h"

namespace seamwright::study {

struct WeldPair {
  std::string weld;
  double first_km = 0, second_km = 0;  ///< NaN: not covered; infinite: no damage
  double ratio =
      0;  ///< second over first; NaN where either has no life, or the second has lost a site's number
  bool first_at_most = false, second_at_most = false;  ///< the life is a bound
  rating::Verdict first = rating::Verdict::meets, second = rating::Verdict::meets;
};
struct Comparison {
  std::vector<WeldPair> welds;  ///< of both: those that lost a number, then the least ratio first
  std::vector<std::string> only_first, only_second;  ///< ids
};
/// Throws Fault "study.nothing-common" when no weld has the same id.
Comparison compare(const rating::Rating& first, const rating::Rating& second);

/// Two jobs rated, and what the ratings say of each other.
struct RatedPair {
  rating::Rating first, second;
  Comparison welds;
  double first_kg = 0, second_kg = 0;  ///< welded tubes, as frame_mass_kg()
};
/// A Fault of the first of two jobs, so that nobody looks for it in the files of the second.
struct FirstJobFault : Fault {
  explicit FirstJobFault(const Fault& fault) : Fault(fault) {}
};
/// Each job takes half of the progress. Throws FirstJobFault, and what rating::rate() and compare() throw.
RatedPair rate_pair(const rating::Job& first, const rating::Job& second, const rules::Published& published,
                    rating::Method method, const rating::Progress& progress);

}  // namespace seamwright::study
