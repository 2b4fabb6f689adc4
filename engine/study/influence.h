// SPDX-License-Identifier: GPL-3.0-or-later
// Which of the assumed inputs moves the governing life most.
#pragma once

#include "engine/study/variant.h"

namespace seamwright::study {

/// One input with the range that it may lie in, an assumption of ours unless the source says otherwise, and
/// the governing life at both ends, with factors.
struct Influence {
  std::string input;  ///< "payload", "rider-mass", ...
  std::string unit;
  double low = 0, as_is = 0, high = 0;
  double low_km = 0, high_km = 0;
  std::string low_weld, high_weld;  ///< that govern there
  double spread = 1;                ///< largest over smallest of the three lives
  Source source;
};
struct Influences {
  double life_km = 0;
  std::string weld;
  std::vector<Influence> inputs;  ///< largest spread first
};
/// Rates at every end in the frequency domain, over all processors. Throws what rate() throws.
Influences influences(const rating::Job& job, const rating::Published& published,
                      const rating::Progress& progress);

}  // namespace seamwright::study
