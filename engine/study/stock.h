// SPDX-License-Identifier: GPL-3.0-or-later
// A shop's own tubes and prices. Plain data.
#pragma once

#include <limits>
#include <string>
#include <vector>

#include "engine/frame/section.h"

namespace seamwright::study {

inline constexpr double no_price = std::numeric_limits<double>::quiet_NaN();

struct StockTube {
  std::string steel;
  frame::RoundTube size;
  double price_per_m = no_price;
};

/// Prices in one currency, whichever the shop counts in.
struct Stock {
  std::vector<StockTube> tubes;
  double weld_per_mm = 0;  ///< of seam
  double set_up = 0;       ///< once for each size of tube in a frame: a cut, a mitre and a fixture of its own
  /// Every tube of it has a price.
  bool priced() const {
    for (const StockTube& t : tubes)
      if (!(t.price_per_m >= 0)) return false;
    return true;
  }
};

}  // namespace seamwright::study
