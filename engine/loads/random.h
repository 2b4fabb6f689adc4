// SPDX-License-Identifier: GPL-3.0-or-later
// Named random numbers: the same on every machine, compiler and number of threads.
#pragma once

#include <cstdint>
#include <string_view>

namespace seamwright::loads {

/// SplitMix64 (Steele, Lea & Flood 2014) started from the 64-bit hash FNV-1a (Fowler, Noll & Vo) of a name.
/// Any name will do, also an empty one. Not for secrets.
class NamedRandom {
 public:
  explicit NamedRandom(std::string_view name);
  std::uint64_t next();
  double uniform();  ///< in (0, 1), both ends excluded, steps of 2^-52
  double normal();   ///< mean 0, standard deviation 1, by the inverse of the distribution; within +- 8.3

 private:
  std::uint64_t state_;
};

}  // namespace seamwright::loads
