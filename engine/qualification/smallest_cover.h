// SPDX-License-Identifier: GPL-3.0-or-later
// The fewest sets that hold all of some things together.
#pragma once

#include <boost/dynamic_bitset.hpp>
#include <vector>

namespace seamwright::qualification {

using Covered = boost::dynamic_bitset<>;

struct Cover {
  std::vector<std::size_t> sets;  ///< numbers of the chosen sets, ascending
  bool proven = true;             ///< no smaller choice exists; false where the search was given up
};

/// Chooses among sets of equal size (bits: the things that each holds) the fewest that hold together what all of them hold. Of equal choices
/// the one with the earlier sets. Exact branch and bound up to `steps` branches, beyond that the best found.
Cover smallest_cover(const std::vector<Covered>& sets, std::size_t steps = 200000);

}  // namespace seamwright::qualification
