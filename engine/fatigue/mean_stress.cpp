// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/fatigue/mean_stress.h"

#include <algorithm>

namespace seamwright::fatigue {

double iiw_case_1_factor(double least, double most) {
  if (!(most > 0)) return 1.6;
  const double ratio = least / most;
  if (ratio < -1) return 1.6;
  return ratio <= 0.5 ? 1.2 - 0.4 * ratio : 1;
}

double effective_range(MeanStress rule, double least, double most) {
  switch (rule) {
    case MeanStress::none:
      break;
    case MeanStress::en1993:
      return std::max(0.0, most) - std::max(0.0, least) + 0.6 * (std::min(0.0, most) - std::min(0.0, least));
    case MeanStress::iiw_case_1:
      return (most - least) / iiw_case_1_factor(least, most);
  }
  return most - least;
}

}  // namespace seamwright::fatigue
