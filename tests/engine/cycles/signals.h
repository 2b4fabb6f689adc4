// SPDX-License-Identifier: GPL-3.0-or-later
// Short ways to count a history and to read the counts, shared by the tests of cycles.
#pragma once

#include <catch2/catch.hpp>
#include <cmath>
#include <initializer_list>
#include <limits>
#include <map>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "engine/cycles/rainflow.h"
#include "engine/cycles/spectral.h"
#include "engine/evidence/evidence.h"

namespace seamwright::cycles {

using History = std::vector<double>;
using Table = std::map<double, double>;  ///< range -> count

constexpr double infinite = std::numeric_limits<double>::infinity();
constexpr double nan_value = std::numeric_limits<double>::quiet_NaN();

struct Counted {
  std::vector<Cycle> closed;  ///< full cycles of the single pass
  std::vector<Cycle> all;     ///< with what the residue adds
  History residue;
};

inline Counted count(const History& signal, Residue residue, double gate = 0) {
  Counted counted;
  Rainflow rainflow(gate);
  rainflow.push(signal, counted.all);
  rainflow.finish(residue, counted.all);
  counted.residue = rainflow.residue();
  // Closed during the pass or by its last point: as many as do not come from the residue.
  std::size_t added = 0;
  if (residue == Residue::half) {
    added = counted.residue.empty() ? 0 : counted.residue.size() - 1;
  } else {
    added = close_repeated(counted.residue, gate).size();
  }
  counted.closed.assign(counted.all.begin(), counted.all.end() - static_cast<std::ptrdiff_t>(added));
  return counted;
}

inline Table table(const std::vector<Cycle>& cycles) {
  Table result;
  for (const Cycle& cycle : cycles) result[cycle.range()] += cycle.count;
  return result;
}

inline double sum_of_powers(const std::vector<Cycle>& cycles, double slope) {
  double sum = 0;
  for (const Cycle& cycle : cycles) sum += cycle.count * std::pow(cycle.range(), slope);
  return sum;
}

inline History turning_points(const History& signal, double gate = 0) {
  History points;
  TurningPoints turning(gate);
  turning.push(signal, points);
  turning.finish(points);
  return points;
}

/// The Fault that `work` throws; a Fault with an empty id when it throws none.
template <class Work>
Message fault_of(Work&& work) {
  try {
    work();
  } catch (const Fault& fault) {
    return fault.message;
  }
  return {};
}

inline double first_number(const Message& message) {
  return message.arguments.empty() ? -1 : std::get<double>(message.arguments.front().value);
}

/// A one-sided spectrum that is constant on each block: m_n = sum G (f2^(n+1) - f1^(n+1)) / (n+1).
struct Block {
  double from_hz, to_hz, psd_mpa2_hz;
};
inline Moments moments(std::initializer_list<Block> blocks) {
  Moments m;
  for (const Block& b : blocks) {
    const auto moment = [&b](int n) {
      return b.psd_mpa2_hz * (std::pow(b.to_hz, n + 1) - std::pow(b.from_hz, n + 1)) / (n + 1);
    };
    m.m0 += moment(0);
    m.m1 += moment(1);
    m.m2 += moment(2);
    m.m4 += moment(4);
  }
  return m;
}

inline Moments flat() { return moments({{1, 20, 10}}); }
inline Moments two_blocks() { return moments({{4.5, 5.5, 900}, {19, 21, 200}}); }
inline Moments two_far_blocks() { return moments({{1, 2, 400}, {40, 42, 100}}); }

/// All moments of a single frequency.
inline Moments single(double sigma_mpa, double frequency_hz) {
  const double m0 = sigma_mpa * sigma_mpa;
  return {m0, m0 * frequency_hz, m0 * std::pow(frequency_hz, 2), m0 * std::pow(frequency_hz, 4)};
}

/// E[range^k] of a Rayleigh distribution of amplitudes: (2 sqrt(2) sigma)^k Gamma(1 + k/2).
inline double rayleigh_power(double sigma_mpa, double slope) {
  return std::pow(2 * std::sqrt(2.0) * sigma_mpa, slope) * std::tgamma(1 + slope / 2);
}

inline double power_damage(const Moments& m, RangeModel model, double slope) {
  return damage_per_s(m, model, [slope](double range) { return std::pow(range, slope); }, {});
}

}  // namespace seamwright::cycles
