// SPDX-License-Identifier: GPL-3.0-or-later
// Range-mean histogram, for display only: damage is summed from exact cycles, because classes bias it (a
// range class of width w about w/range relative, times the slope).
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "engine/cycles/rainflow.h"

namespace seamwright::cycles {

struct Histogram {
  std::vector<double> range_edges, mean_edges;  ///< ascending, size classes + 1, unit of the signal
  std::vector<double> counts;                   ///< row-major: range class x mean class
};

/// Equal classes that contain all cycles: ranges from 0 to the largest, means from the smallest to the
/// largest (widened by half the largest range each way when all are equal; without any range: 0.5). A class
/// holds its lower edge; the last one also its upper edge. No cycles: edges 0..1 and zero counts. Throws
/// Fault "cycles.bad-classes" when a number of classes is 0 or above 4096, "cycles.not-a-number" (index of
/// the cycle) for a cycle that is not finite.
Histogram histogram(std::span<const Cycle> cycles, std::size_t range_classes, std::size_t mean_classes);

/// The bounds of these classes, found from cycles that come one after the other.
class HistogramBounds {
 public:
  /// Throws Fault "cycles.not-a-number" as histogram() does.
  void add(const Cycle& cycle);
  double largest_range() const { return largest_; }  ///< 0 without cycles
  /// A histogram with these bounds that counts nothing yet. Throws Fault "cycles.bad-classes" as histogram() does.
  Histogram empty(std::size_t range_classes, std::size_t mean_classes) const;

 private:
  std::size_t seen_ = 0;
  double largest_ = 0, low_ = 0, high_ = 1;  // ranges and means, unit of the signal
};
/// Counts a cycle within the bounds.
void add(Histogram& histogram, const Cycle& cycle);

}  // namespace seamwright::cycles
