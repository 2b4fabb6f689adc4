// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/cycles/histogram.h"

#include <algorithm>
#include <cmath>

#include "engine/evidence/evidence.h"

namespace seamwright::cycles {
namespace {

constexpr std::size_t most_classes = 4096;

std::vector<double> equal_edges(double from, double to, std::size_t classes) {
  std::vector<double> edges(classes + 1);
  for (std::size_t i = 0; i <= classes; ++i) {
    const double share = static_cast<double>(i) / static_cast<double>(classes);
    edges[i] = (1 - share) * from + share * to;
  }
  return edges;
}

std::size_t class_of(double value, const std::vector<double>& edges) {
  const auto above = std::upper_bound(edges.begin() + 1, edges.end() - 1, value);
  return static_cast<std::size_t>(above - edges.begin()) - 1;
}

}  // namespace

Histogram histogram(std::span<const Cycle> cycles, std::size_t range_classes, std::size_t mean_classes) {
  for (const std::size_t classes : {range_classes, mean_classes}) {
    if (classes >= 1 && classes <= most_classes) continue;
    throw Fault{Message{"cycles.bad-classes", {number("classes", static_cast<double>(classes), "")}}};
  }
  double largest = 0, low = 0, high = 1;
  for (std::size_t i = 0; i < cycles.size(); ++i) {
    const double range = cycles[i].range(), mean = cycles[i].mean();
    if (!std::isfinite(range) || !std::isfinite(mean) || !std::isfinite(cycles[i].count)) {
      throw Fault{Message{"cycles.not-a-number", {number("index", static_cast<double>(i), "")}}};
    }
    largest = std::max(largest, range);
    low = i == 0 ? mean : std::min(low, mean);
    high = i == 0 ? mean : std::max(high, mean);
  }
  if (largest <= 0) largest = 1;
  if (!(low < high)) {
    low -= 0.5 * largest;
    high += 0.5 * largest;
  }

  Histogram result{equal_edges(0, largest, range_classes), equal_edges(low, high, mean_classes), {}};
  result.counts.assign(range_classes * mean_classes, 0.0);
  for (const Cycle& cycle : cycles) {
    const std::size_t row = class_of(cycle.range(), result.range_edges);
    result.counts[row * mean_classes + class_of(cycle.mean(), result.mean_edges)] += cycle.count;
  }
  return result;
}

}  // namespace seamwright::cycles
