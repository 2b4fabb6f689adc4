// SPDX-License-Identifier: GPL-3.0-or-later
// Strain gauges are placed so that they tell the loads apart, and measured strains say how large the loads
// are.
#pragma once

#include "engine/rating/job.h"

namespace seamwright::measured {

/// A place on the outside of a tube, away from its joints.
struct GaugePlace {
  std::string element;   ///< as solve names it
  double share = 0;      ///< of its length from its start
  double angle_deg = 0;  ///< about its axis from local y towards local z
  double axis_deg = 0;   ///< of the gauge against the tube's axis: 0 along it, 45 for torsion
  frame::Vec3 place_mm{0, 0, 0};
};

/// A load at the level that the duty gives it.
struct GaugeChannel {
  std::string
      id;  ///< "payload", "corner", "brake", "pedal-left", "pedal-right", "wheel-FL", "wheel-FR", "wheel-R"
  double level = 0;
  std::string unit;
};

struct GaugePlan {
  std::vector<GaugeChannel> channels;
  std::vector<GaugePlace> gauges;  ///< in the order of what they add
  Eigen::MatrixXd microstrain;     ///< gauges x channels, at the channels' levels
  /// Standard error of each channel's load from all gauges together, share of its level, for readings good to
  /// `noise_microstrain`; 1 = the gauges say nothing about it.
  Eigen::VectorXd error;
  double noise_microstrain = 5;
};

/// Chooses `count` places, 1..12: greedy, then exchanged one by one, for the largest determinant of the
/// information about all channels, each known before to within its own level (D-optimal design with a prior).
/// Strain: stress at the outer fibre from axial force and both moments over E; at 45 degrees (1 - nu)/2 of it
/// and torsion over 2 G. Round tubes and bars alone, at a quarter, half and three quarters of members longer
/// than four diameters. The frame is stiff at its joints as their models are, where the job has them. Throws Fault "gauges.too-few" when there are fewer places than gauges, and the Faults
/// of the loads.
GaugePlan gauge_plan(const rating::Job& job, std::size_t count);

/// A strain range that was measured while one channel acted.
struct GaugeReading {
  std::size_t gauge = 0;  ///< index in the plan
  std::string channel;
  double microstrain = 0;  ///< at the channel's level
};

struct ChannelFactor {
  std::string channel;
  std::size_t readings = 0;
  double factor = 0;  ///< measured over predicted, least squares over the gauges
  double scatter =
      0;  ///< standard deviation of the residuals over the root of the mean square predicted; NaN for one
};
struct GaugeResult {
  std::vector<ChannelFactor> channels;  ///< those with readings
  double load_factor = 0;               ///< median of the channels' factors
  double load_scatter = 0;              ///< their coefficient of variation; NaN for one channel
};
/// Throws Fault "gauges.unknown-channel" and "gauges.no-reading" (a channel whose predicted strains are all
/// below the noise cannot be judged and is left out; none left).
GaugeResult judge_readings(const GaugePlan& plan, const std::vector<GaugeReading>& readings);

}  // namespace seamwright::measured
