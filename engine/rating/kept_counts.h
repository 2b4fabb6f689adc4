// SPDX-License-Identifier: GPL-3.0-or-later
// Counted histories, kept so that the same service is never counted again.
#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/rating/range_bins.h"
#include "engine/rating/service.h"

namespace seamwright::rating {

/// Damage of a year and its scatter, summed over the realisations.
struct HistoryCounts {
  Eigen::ArrayXd factored, unfactored, squares, largest;  ///< per site
  std::vector<RangeBins> ranges;                          ///< per site; empty in the frequency domain
  std::vector<std::vector<double>> lift;                  ///< per trip and leg, largest
  std::size_t count = 0;
};

/// Bytes by the bytes of what they come from; what is not found is counted anew.
class CountStore {
 public:
  virtual ~CountStore() = default;
  virtual std::optional<std::string> find(std::string_view inputs) = 0;
  virtual void keep(std::string_view inputs, std::string_view bytes) = 0;
};

/// Every number that the counts of a service depend on, in this machine's order of bytes. The program's own part, its
/// arithmetic, is for the store to tell apart.
std::string inputs_of(const Service& service);

std::string bytes_of(const HistoryCounts& counts);
/// None where the bytes are not those of so many sites and of the service's legs.
std::optional<HistoryCounts> counts_of(std::string_view bytes, const Service& service);

}  // namespace seamwright::rating
