// SPDX-License-Identifier: GPL-3.0-or-later
// Unevenly sampled rows onto an even grid, as a stream.
#pragma once

#include <cstddef>
#include <functional>
#include <span>
#include <vector>

namespace seamwright::signal {

/// Linear interpolation between neighbouring rows at times start + k / rate; rows at the same time are
/// averaged; a channel's missing value (NaN) is bridged from its neighbours in time. An interval longer than
/// the gap ends the stretch: the next row starts a new grid.
class Resampler {
 public:
  /// sink(values, starts): one grid row; starts is true at the first row of a stretch.
  using Sink = std::function<void(std::span<const double> values, bool starts)>;
  /// Throws Fault "signal.bad-rate" unless the rate and the gap are positive and finite.
  Resampler(std::size_t channels, double rate_hz, double gap_s, Sink sink);

  /// Times must not fall: Fault "signal.unsorted" with the time.
  void push(double time_s, std::span<const double> values);
  /// Ends the last stretch.
  void finish();

 private:
  void settle();
  void emit_until(double time_s);

  std::size_t channels_;
  double rate_hz_, gap_s_;
  Sink sink_;
  // The row before and the row that gathers the newest time.
  std::vector<double> before_, now_, counts_, grid_;
  double before_s_ = 0, now_s_ = 0, start_s_ = 0;
  std::size_t emitted_ = 0;
  bool has_before_ = false, has_now_ = false;
};

}  // namespace seamwright::signal
