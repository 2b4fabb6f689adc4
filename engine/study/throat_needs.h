// SPDX-License-Identifier: GPL-3.0-or-later
// The weld size that the roots need.
#pragma once

#include "engine/rating/rate.h"

namespace seamwright::study {

/// One weld whose root is rated by its throat.
struct ThroatNeed {
  std::string weld, site;  ///< its most damaged root with the throat as designed
  double throat_mm = 0;
  double used = 0;  ///< of the damage that its target allows that root
  double needed_mm =
      0;  ///< where the worst root just meets its target; infinite: not even at three times the throat
  bool at_most = false;  ///< half the throat would do: needed_mm is an upper bound
  bool bound = false;    ///< the rule leaves something out: by it alone so much, and no throat meets
  double leg_crown_mm = 0, leg_saddle_mm = 0;  ///< of a fillet around a brace with the throat needed, of both crowns the longer; 0 for other welds
};

/// Every throat is changed in the same proportion with its legs, from half to three times, each time rated in the frequency
/// domain with the job's rules; between two steps damage is a straight line of logarithms, and the first step from the throat as it is
/// counts. Toes do not gain. Welds whose roots are proven, or not covered, are left
/// out. Worst first. Throws what rate() throws.
std::vector<ThroatNeed> throats_needed(const rating::Job& job, const rules::Published& published,
                                       const rating::Progress& progress);

}  // namespace seamwright::study
