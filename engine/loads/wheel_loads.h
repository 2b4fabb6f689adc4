// SPDX-License-Identifier: GPL-3.0-or-later
// Static wheel loads of a three-wheeler by statics alone.
#pragma once

#include "engine/evidence/evidence.h"

namespace seamwright::loads {

struct TrikeGeometry {
  double mass_kg = 0;
  double wheelbase_mm = 0, track_mm = 0;
  double centre_behind_front_axle_mm = 0, centre_left_mm = 0;
};
struct WheelLoads {
  double front_left_n = 0, front_right_n = 0, rear_n = 0;
  Evidence evidence;  ///< limit: no wheel below 0
};
/// F_front = m g b / L split by F/2 +- m g y / t; F_rear = m g a / L, g = 9.80665 m/s2. Throws Fault for lengths <= 0.
WheelLoads wheel_loads(const TrikeGeometry& geometry);

}  // namespace seamwright::loads
