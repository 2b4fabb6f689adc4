// SPDX-License-Identifier: GPL-3.0-or-later
// The static peak cases of a job against the yield strength of its tubes.
#pragma once

#include "engine/loads/peak_cases.h"
#include "engine/rating/job.h"
#include "engine/strength/strength_checks.h"

namespace seamwright::strength {

/// The most used place of a case: where equivalent stress over yield strength is largest, or, as long as no
/// strength is stated, where the stress is.
struct PeakRating {
  loads::PeakCase load;
  std::string element;
  double stress_mpa = 0, yield_mpa = 0;  ///< nominal, von Mises; 0 = not stated
  double use = 0;                        ///< stress over yield; NaN when not stated
  std::vector<StrengthCheck> checks;     ///< the most used place of each kind
};
struct PeakRatings {
  std::vector<PeakRating> cases;  ///< every case for every loading of the duty, and empty
  std::vector<std::string> missing;
};
/// Every case with its strength checks. Throws what peak_cases() throws.
PeakRatings rate_peaks(const rating::Job& job, const rules::Published& published);

}  // namespace seamwright::strength
