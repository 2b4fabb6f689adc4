// SPDX-License-Identifier: GPL-3.0-or-later
// Manoeuvres along a leg: half sines of static loads, one after the other.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "engine/loads/duty.h"

namespace seamwright::loads {

/// Half sines evenly along a leg, their peaks in turn. A time of 0 lets them follow each other without a
/// pause (pedalling).
struct Train {
  std::string source;  ///< id of the manoeuvre, or "pedalling"
  double count = 0;    ///< in the whole leg
  double seconds = 0;
};

/// Times that something with a rate happens in a leg: rounded up.
double times_in(const Leg& leg, double per_km);

/// Shape of a train's pulses over a leg of so many samples, kinds x `samples` of them from `first` on: row k holds
/// the pulses number k, k + kinds, ... with height 1. Zeros stand between pulses, also where they follow each other.
Eigen::MatrixXd pulse_shapes(const Train& train, Eigen::Index kinds, double sample_rate_hz,
                             Eigen::Index samples_of_leg, Eigen::Index first, Eigen::Index samples);

}  // namespace seamwright::loads
