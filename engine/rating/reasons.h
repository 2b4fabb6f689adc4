// SPDX-License-Identifier: GPL-3.0-or-later
// Reasons tell why each number of a rating is what it is: from which loads the damage comes, through which
// section forces and cycles, and what the frame's own modes add.
#pragma once

#include <limits>

#include "engine/rating/verdicts.h"

namespace seamwright::rating {

struct SiteReasons {
  std::vector<double> damage_share;  ///< of each part; sums to 1, or all 0
  /// Ratio at a weld's governing site: the road's damage with all modes over that with the body's modes
  /// alone.
  double elastic_over_quasi_static = std::numeric_limits<double>::quiet_NaN();
  std::vector<Evidence> before, behind;  ///< what stands before and behind the site's own evidence
};
/// welds x sites, as in the verdicts. Shares for all; for the worst site of each kind the chain from section
/// forces; for the governing site its legs; channels, cycles and, where crack growth has a solution, the
/// inspection interval for the worst site of each kind of the first detailed_welds and the one explained.
std::vector<std::vector<SiteReasons>> reasons_of(const Job& job, const Service& service, const Damage& damage,
                                                 const Verdicts& verdicts, const std::string& explained);

}  // namespace seamwright::rating
