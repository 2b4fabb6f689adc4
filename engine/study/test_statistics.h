// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers of cycles of several pieces under one constant amplitude: how they scatter, and what their mean says. Log-normal
// throughout; m is the slope of the S-N curve.
#pragma once

namespace seamwright::study {

/// A piece that has lived so many times longer than predicted runs out: a choice of ours.
inline constexpr double run_out_times = 10;

struct CycleInterval {
  double low = 0, high = 0;
};
/// A tenth and nine tenths of a log-normal number of cycles about its median; the deviation is that of ln N.
CycleInterval interval_80(double median, double deviation);
/// Standard deviation of ln N of one piece (pieces 1) or of the mean of several: sqrt((m joint)^2 + curve^2 / n); joint of ln
/// stress, curve of ln N.
double cycles_deviation(double slope, double joint_deviation, double curve_deviation, int pieces);
/// Half width of the 80 % interval of the mean of log10 N by Student's t with n - 1 degrees: t s / sqrt(n). Source: ISO 12107
/// [from memory] and every textbook. Infinite for fewer than two.
double mean_half_width(double deviation_log_n, int pieces);
/// True stress over the model's where pieces last `cycles_ratio` times as long as predicted: ratio^(-1/m).
double joint_bias(double cycles_ratio, double slope);

}  // namespace seamwright::study
