// SPDX-License-Identifier: GPL-3.0-or-later
// Cycle counting of a streamed signal: turning points, rainflow, residue. Memory does not grow with the signal.
// Source: ASTM E1049-85 (reapproved 2017), clause 5.4.4; four-point rule: Amzallag et al., Int. J. Fatigue 16 (1994) 287.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace seamwright::cycles {

/// One counted cycle, in the unit of the signal; from and to keep mean, ratio and direction. count is 1 or 0.5.
struct Cycle {
  double from = 0, to = 0;
  double count = 1;
  double range() const { return from < to ? to - from : from - to; }
  double mean() const { return 0.5 * (from + to); }
};

/// Streaming turning points with a hysteresis gate >= 0 (0 keeps every reversal; closed loops of range <= gate vanish).
/// The first and last point are kept. Plateaus count once.
class TurningPoints {
 public:
  explicit TurningPoints(double gate = 0);
  /// Appends the turning points that these samples settle. Throws Fault "cycles.not-a-number" with the sample's index.
  void push(std::span<const double> samples, std::vector<double>& out);
  /// Appends what is left at the end.
  void finish(std::vector<double>& out);

 private:
  double gate_;
  double low_ = 0, high_ = 0, candidate_ = 0;
  bool low_first_ = true;
  int direction_ = 0;
  std::size_t count_ = 0;
};

enum class Residue { half, repeated };

/// Four-point rainflow over streamed samples. Closed cycles are appended to `closed` as they close, so the caller drains
/// it; the stack holds the residue only.
class Rainflow {
 public:
  explicit Rainflow(double gate = 0);
  void push(std::span<const double> samples, std::vector<Cycle>& closed);
  /// Ends the signal: residue ranges as half cycles, or the cycles that close when the residue repeats itself.
  void finish(Residue residue, std::vector<Cycle>& closed);
  /// Turning points not yet closed.
  const std::vector<double>& residue() const { return stack_; }

 private:
  void reduce(double point, std::vector<Cycle>& closed);
  TurningPoints turning_;
  std::vector<double> stack_, points_;
};

/// A whole signal at once: full and half cycles by the three-point rule of ASTM E1049 (half cycles where the range holds the
/// start point, and for what is left).
std::vector<Cycle> count_astm(std::span<const double> samples, double gate = 0);

/// The cycles that close when `residue` is followed by itself.
std::vector<Cycle> close_repeated(const std::vector<double>& residue);

}  // namespace seamwright::cycles
