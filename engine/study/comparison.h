// SPDX-License-Identifier: GPL-3.0-or-later
// Two ratings side by side.
#pragma once

#include "engine/study/variant.h"

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

}  // namespace seamwright::study
