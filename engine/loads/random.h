// SPDX-License-Identifier: GPL-3.0-or-later
// Named random numbers: the same on every machine, compiler and number of threads.
#pragma once

#include <cstdint>
#include <string_view>

namespace seamwright::loads {

/// Counter-free generator (SplitMix64) seeded from a name by FNV-1a; normal deviates by Boost.Math's inverse normal.
class NamedRandom {
 public:
  explicit NamedRandom(std::string_view name);
  std::uint64_t next();
  double uniform();  ///< in (0, 1)
  double normal();   ///< mean 0, standard deviation 1

 private:
  std::uint64_t state_;
};

}  // namespace seamwright::loads
