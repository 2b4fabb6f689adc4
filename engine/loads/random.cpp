// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/random.h"

#include <boost/math/special_functions/erf.hpp>
#include <numbers>

namespace seamwright::loads {

NamedRandom::NamedRandom(std::string_view name) : state_(14695981039346656037ULL) {
  for (const char c : name) {
    state_ ^= static_cast<unsigned char>(c);
    state_ *= 1099511628211ULL;
  }
}

std::uint64_t NamedRandom::next() {
  state_ += 0x9E3779B97F4A7C15ULL;
  std::uint64_t z = state_;
  z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
  z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
  return z ^ (z >> 31);
}

double NamedRandom::uniform() {
  // 52 bits and a half fill the 53 bits of a double exactly, so that rounding never reaches 1.
  return (static_cast<double>(next() >> 12) + 0.5) * 0x1p-52;
}

double NamedRandom::normal() {
  using Double = boost::math::policies::policy<boost::math::policies::promote_double<false>>;
  return -std::numbers::sqrt2 * boost::math::erfc_inv(2 * uniform(), Double());
}

}  // namespace seamwright::loads
