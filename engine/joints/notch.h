// SPDX-License-Identifier: GPL-3.0-or-later
// Notches that are not welds: elastic stress concentration of shoulders and small holes.
#pragma once

#include <array>

#include "engine/evidence/evidence.h"

namespace seamwright::joints {

/// A round bar that steps from a large to a small diameter with a fillet between.
struct Shoulder {
  double large_mm = 0, small_mm = 0, fillet_mm = 0;
};
/// Factors on the nominal stress of the small section. Source: Pilkey, Peterson's Stress Concentration
/// Factors, 2nd ed., charts 3.4 (tension), 3.10 (bending), 3.12 (torsion), fits in h/r and 2h/D; read in
/// several agreeing reprints. Range: h/r from 0.1 to 20 (torsion 0.25 to 4). Outside, the
/// factor at the limit and coverage extended; torsion below 0.25 takes the value there, which is the larger.
/// Throws Fault "joints.shoulder" where it is no shoulder.
struct ShoulderFactors {
  double tension = 1, bending = 1, torsion = 1;
  Evidence evidence;
};
ShoulderFactors shoulder_factors(const Shoulder& shoulder);

/// Stress along the edge of a small round hole in a wall under direct stress along x and shear, as factors on
/// both: {1 - 2 cos 2a, -4 sin 2a} at the angle a from x. Kirsch 1898; any text of elasticity (Timoshenko and
/// Goodier, Theory of Elasticity, section on the effect of circular holes). Holds for a hole far smaller than
/// the tube.
std::array<double, 2> hole_edge_factors(double angle_deg);

}  // namespace seamwright::joints
