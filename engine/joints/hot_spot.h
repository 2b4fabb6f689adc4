// SPDX-License-Identifier: GPL-3.0-or-later
// Stress at eight points around a tube weld, signed, in one instant. Angles from the crown on the chord's
// start side, right-handed about the brace axis as it leaves the node: 0 crown, 90 saddle, 180 crown, 270
// saddle.
#pragma once

#include <Eigen/Core>
#include <array>

#include "engine/joints/efthymiou.h"

namespace seamwright::joints {

inline constexpr std::array<double, 8> point_angles_deg{0, 45, 90, 135, 180, 225, 270, 315};

/// Nominal stresses of the brace at the chord's surface, MPa: axial N/A, in-plane M_ip/W, out-of-plane
/// M_op/W. Signs after DNV-RP-C203 eqn 3.3.1: positive in_plane puts tension at 0 deg, positive out_of_plane
/// puts compression at 90 deg.
struct BraceStress {
  double axial_mpa = 0, in_plane_mpa = 0, out_of_plane_mpa = 0;
};

/// Eight-point superposition, DNV-RP-C203 eqn 3.3.1. With all factors 1 it is the nominal stress around the
/// tube.
std::array<double, 8> eight_points(const ScfSide& scf, const BraceStress& stress);

/// The same as coefficients: row i holds the factors on axial, in-plane and out-of-plane stress at point i.
Eigen::Matrix<double, 8, 3> eight_point_factors(const ScfSide& scf);

/// Hot-spot stress with evidence at the point of largest |stress|.
struct HotSpotResult {
  std::array<double, 8> points_mpa{};
  Evidence evidence;
};
HotSpotResult hot_spot(const TyScf& scf, bool chord_side, const BraceStress& stress);

}  // namespace seamwright::joints
