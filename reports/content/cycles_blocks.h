// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "engine/cycles/histogram.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// A rainflow count of one column, its cycles by their range.
struct Count {
  std::string file, column;
  std::size_t samples = 0;
  double cycles = 0;           ///< half ones count half
  cycles::Histogram ranges{};  ///< with one class of means
  std::vector<double> residue{};
};
Document cycles_document(const Count& count);

}  // namespace seamwright::reports
