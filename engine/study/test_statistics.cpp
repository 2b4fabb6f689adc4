// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/test_statistics.h"

#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <limits>

namespace seamwright::study {

namespace {

constexpr double nine_tenths = 0.9;  // leaves a tenth on either side

}  // namespace

CycleInterval interval_80(double median, double deviation) {
  const double factor = std::exp(quantile(boost::math::normal_distribution<double>(), nine_tenths) * deviation);
  return {median / factor, median * factor};
}

double cycles_deviation(double slope, double joint_deviation, double curve_deviation, int pieces) {
  return std::hypot(slope * joint_deviation, curve_deviation / std::sqrt(pieces));
}

double mean_half_width(double deviation_log_n, int pieces) {
  if (pieces < 2) return std::numeric_limits<double>::infinity();
  return quantile(boost::math::students_t_distribution<double>(pieces - 1), nine_tenths) * deviation_log_n / std::sqrt(pieces);
}

double joint_bias(double cycles_ratio, double slope) { return std::pow(cycles_ratio, -1 / slope); }

}  // namespace seamwright::study
