// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/pulses.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace seamwright::loads {

double times_in(const Leg& leg, double per_km) { return std::ceil(per_km * leg.distance_km - 1e-9); }

Eigen::MatrixXd pulse_shapes(const Train& train, Eigen::Index kinds, double sample_rate_hz,
                             Eigen::Index samples_of_leg, Eigen::Index begin, Eigen::Index samples) {
  Eigen::MatrixXd shapes = Eigen::MatrixXd::Zero(kinds, samples);
  const auto count = static_cast<Eigen::Index>(train.count);
  if (count == 0) return shapes;
  const double spacing = static_cast<double>(samples_of_leg) / train.count;
  const double width = train.seconds > 0 ? std::min(train.seconds * sample_rate_hz, spacing) : spacing;
  const auto reached = static_cast<Eigen::Index>(static_cast<double>(begin) / spacing);
  for (Eigen::Index k = std::max<Eigen::Index>(0, reached - 1); k < count; ++k) {
    const double from = (static_cast<double>(k) + 0.5) * spacing - width / 2;
    const auto first = static_cast<Eigen::Index>(std::ceil(from + 0.5)),
               last = static_cast<Eigen::Index>(std::floor(from + width - 0.5));
    if (first >= begin + samples) break;
    for (Eigen::Index i = std::max(begin, first); i <= std::min(last, begin + samples - 1); ++i)
      shapes(k % kinds, i - begin) = std::sin(std::numbers::pi * (static_cast<double>(i) - from) / width);
  }
  return shapes;
}

}  // namespace seamwright::loads
