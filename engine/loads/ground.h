// SPDX-License-Identifier: GPL-3.0-or-later
// The ground under each wheel in time: obstacles by their shape, the road by its synthesis.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "engine/loads/duty.h"
#include "engine/loads/road.h"

namespace seamwright::loads {

/// Height of an obstacle's surface above the road, mm, at a distance behind its start along the way. Shapes:
/// kerb: a square step; pothole: a square hole; round hump: an arc of a circle through its ends; sine hump:
/// h/2 (1 - cos(2 pi x/l)); flat hump: ramps and a plateau; bar: a square bar.
double surface_mm(const Obstacle& obstacle, double along_mm);

/// Way of the hub of a rigid wheel of a radius over the obstacle, mm above the level, at equal steps from
/// `before_mm` ahead of its start: the highest that the rim touches. Derived from geometry; a soft tyre
/// swallows edges, so this is the sharp bound.
std::vector<double> hub_path_mm(const Obstacle& obstacle, double radius_mm, double before_mm, double step_mm,
                                std::size_t count);

/// Heights of the ground that every wheel follows, and their slope along the way; wheels x samples.
struct Ground {
  double rate_hz = 0;
  Eigen::MatrixXd height_m, slope;
};

struct WheelOnGround {
  std::string id;
  Track track;
  double radius_mm = 0;
};

/// The wheels meet the obstacle one after the other at a speed; `settle_s` of level ground follow. Throws
/// Fault "frame.bad-number" for sizes outside 0..2000 mm (heights) and 0..100 m (lengths).
Ground ground_over(const Obstacle& obstacle, const std::vector<WheelOnGround>& wheels, double speed_m_s,
                   double settle_s, double rate_hz);

/// One realisation of the road under the wheels of a leg; slope 0 (waves are long against the wheel). As
/// synthesise_road().
Ground road_ground(const Road& road, const std::vector<Track>& tracks, double speed_m_s, double highest_hz,
                   double rate_hz, Eigen::Index samples, const std::string& seed);

}  // namespace seamwright::loads
