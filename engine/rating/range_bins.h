// SPDX-License-Identifier: GPL-3.0-or-later
// Cycles and damage by range: four bins per octave, bounds at 2^e (1 + k/4).
#pragma once

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstdint>

namespace seamwright::rating {

struct RangeBins {
  static constexpr int first_octave = 0,
                       octaves = 11;  ///< 1 MPa .. 2048 MPa; what is smaller or larger joins the ends
  static constexpr std::size_t size = 4 * octaves;
  struct Bin {
    double cycles = 0, damage = 0;
  };
  std::array<Bin, size> bins{};

  /// Lower bound of a bin, MPa.
  static double from_mpa(std::size_t bin) {
    return std::ldexp(1 + 0.25 * static_cast<double>(bin % 4), first_octave + static_cast<int>(bin / 4));
  }
  /// The exponent and the two leading digits of a double are its bin: no logarithm in the hot loop.
  static std::size_t bin_of(double range_mpa) {
    constexpr std::int64_t zero = (1023LL + first_octave) * 4;
    const auto place = static_cast<std::int64_t>(std::bit_cast<std::uint64_t>(range_mpa) >> 50) - zero;
    return static_cast<std::size_t>(std::clamp<std::int64_t>(place, 0, static_cast<std::int64_t>(size) - 1));
  }
  void add(const RangeBins& other, double times) {
    for (std::size_t i = 0; i < size; ++i) {
      bins[i].cycles += times * other.bins[i].cycles;
      bins[i].damage += times * other.bins[i].damage;
    }
  }
  void add(double range_mpa, double cycles, double damage) {
    Bin& bin = bins[bin_of(range_mpa)];
    bin.cycles += cycles;
    bin.damage += damage;
  }
};

}  // namespace seamwright::rating
