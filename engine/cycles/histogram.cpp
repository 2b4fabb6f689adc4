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

void HistogramBounds::add(const Cycle& cycle) {
  const double range = cycle.range(), mean = cycle.mean();
  if (!std::isfinite(range) || !std::isfinite(mean) || !std::isfinite(cycle.count))
    throw Fault{Message{"cycles.not-a-number", {number("index", static_cast<double>(seen_), "")}}};
  largest_ = std::max(largest_, range);
  low_ = seen_ == 0 ? mean : std::min(low_, mean);
  high_ = seen_ == 0 ? mean : std::max(high_, mean);
  ++seen_;
}

Histogram HistogramBounds::empty(std::size_t range_classes, std::size_t mean_classes) const {
  for (const std::size_t classes : {range_classes, mean_classes}) {
    if (classes >= 1 && classes <= most_classes) continue;
    throw Fault{Message{"cycles.bad-classes", {number("classes", static_cast<double>(classes), "")}}};
  }
  const double largest = largest_ > 0 ? largest_ : 1, more = low_ < high_ ? 0 : 0.5 * largest;
  return {equal_edges(0, largest, range_classes), equal_edges(low_ - more, high_ + more, mean_classes),
          std::vector<double>(range_classes * mean_classes, 0.0)};
}

void add(Histogram& h, const Cycle& cycle) {
  const std::size_t row = class_of(cycle.range(), h.range_edges), mean_classes = h.mean_edges.size() - 1;
  h.counts[row * mean_classes + class_of(cycle.mean(), h.mean_edges)] += cycle.count;
}

Histogram histogram(std::span<const Cycle> cycles, std::size_t range_classes, std::size_t mean_classes) {
  HistogramBounds().empty(range_classes, mean_classes);  // a bad number of classes is told before a bad cycle
  HistogramBounds bounds;
  for (const Cycle& cycle : cycles) bounds.add(cycle);
  Histogram result = bounds.empty(range_classes, mean_classes);
  for (const Cycle& cycle : cycles) add(result, cycle);
  return result;
}

}  // namespace seamwright::cycles
