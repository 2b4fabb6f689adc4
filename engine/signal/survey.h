// SPDX-License-Identifier: GPL-3.0-or-later
// A survey tells what a recording is worth: its sampling, its faults, its spectrum and its cycles. Streams
// the rows twice and holds none of them.
#pragma once

#include <Eigen/Core>
#include <functional>
#include <span>
#include <string>
#include <vector>

namespace seamwright::signal {

/// Calls the inner function with every row: time in s, value per channel (NaN = missing).
using Rows = std::function<void(const std::function<void(double, std::span<const double>)>&)>;

struct Gap {
  double from_s = 0, seconds = 0;
};

/// Cycles of a channel by rainflow, half cycles for what does not close; equal classes of range from 0 to the
/// span of the signal.
struct RangeClasses {
  double width = 0;
  std::vector<double> cycles;
  double largest = 0;
};

struct ChannelSurvey {
  double mean = 0, deviation = 0, least = 0, most = 0;
  std::size_t missing = 0;
  double clipped_share = 0;    ///< of rows in runs of three and more at the least or the most value
  double longest_stuck_s = 0;  ///< without any change
  std::size_t spikes = 0;      ///< rows off both neighbours, to one side, by over 8 deviations of a step
  double drift = 0;            ///< of a straight line through all, end to end, in deviations about it
  double aliasing_share = 0;   ///< of the variance in the top fifth of the band
  bool constant = false;
  Eigen::VectorXd frequency_hz, density;  ///< unit2/Hz; empty when no segment was whole
  RangeClasses ranges;
};

struct Survey {
  std::size_t rows = 0, repeated_times = 0;
  double start_s = 0, duration_s = 0;
  double mean_rate_hz = 0;                           ///< over the time without gaps
  double median_interval_s = 0;                      ///< to 1 %
  double short_interval_s = 0, long_interval_s = 0;  ///< 5 % and 95 % of intervals lie below, to 1 %
  double rate_hz = 0;                                ///< of the grid that was resampled to
  double gap_s = 0;                                  ///< intervals longer than this are gaps
  std::vector<Gap> gaps;                             ///< the first thousand
  std::size_t all_gaps = 0;
  std::vector<ChannelSurvey> channels;
};

/// rate_hz 0: the mean rate, to a whole hertz above 10 Hz. Gaps: longer than ten median intervals and 0.2 s.
/// Throws Fault "signal.too-short" (under 16 rows or without duration), "signal.unsorted", and what the rows
/// throw.
Survey survey(std::size_t channels, const Rows& rows, double rate_hz);

}  // namespace seamwright::signal
