// SPDX-License-Identifier: GPL-3.0-or-later
// Static wheel loads of a three-wheeler by statics alone.
#pragma once

#include "engine/evidence/evidence.h"

namespace seamwright::loads {

/// Two wheels in front, one behind on the middle line.
struct TrikeGeometry {
  double mass_kg = 0;
  double wheelbase_mm = 0, track_mm = 0;
  double centre_behind_front_axle_mm = 0, centre_left_mm = 0;
};
struct WheelLoads {
  double front_left_n = 0, front_right_n = 0, rear_n = 0;
  Evidence evidence;  ///< of the least load; limit: no wheel below 0, else coverage none and a note
};
/// F_front = m g b / L split by F/2 +- m g y / t; F_rear = m g a / L, g = 9.80665 m/s2, a = the centre's
/// distance behind the front axle, b = L - a. N, positive when the wheel presses on the ground; the sum is
/// the weight. Throws Fault "frame.bad-number" for a mass below 0, lengths below 1 mm, or anything absurd or
/// not a number.
WheelLoads wheel_loads(const TrikeGeometry& geometry);

}  // namespace seamwright::loads
