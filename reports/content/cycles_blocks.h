// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "engine/cycles/rainflow.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// A rainflow count of one column.
struct Count {
  std::string file, column;
  std::size_t samples = 0;
  std::vector<cycles::Cycle> cycles;
  std::vector<double> residue;
};
Document cycles_document(const Count& count);

}  // namespace seamwright::reports
