// SPDX-License-Identifier: GPL-3.0-or-later
// Range-mean histogram, for display only: damage is summed from exact cycles.
#pragma once

#include <span>
#include <vector>

#include "engine/cycles/rainflow.h"

namespace seamwright::cycles {

struct Histogram {
  std::vector<double> range_edges, mean_edges;  ///< ascending, size classes + 1, unit of the signal
  std::vector<double> counts;                   ///< row-major: range class x mean class
};

/// Classes contain all data (extended, never clipped). classes >= 1.
Histogram histogram(std::span<const Cycle> cycles, std::size_t range_classes, std::size_t mean_classes);

}  // namespace seamwright::cycles
