// SPDX-License-Identifier: GPL-3.0-or-later
// The wall of a chord gives way under a brace: local flexibility of round T and Y joints.
#pragma once

#include "engine/joints/efthymiou.h"

namespace seamwright::joints {

/// The brace's end gives way against the chord's axis by this, beyond what beams give: mm/N, rad/(N mm)
/// twice.
struct JointFlexibility {
  double axial = 0, in_plane = 0, out_of_plane = 0;
  Evidence evidence;
};

/// Fessler, Mockford & Webster, Proc. Instn Civ. Engrs Part 2, 81 (1986) 659 [from memory, the range too]:
/// axial 1.95 gamma^2.15 (1 - beta)^1.3 sin^2.19 / (E D), in plane 134 gamma^1.73 exp(-4.52 beta) sin^1.22 /
/// (E D^3), out of plane 85.5 gamma^2.2 exp(-3.85 beta) sin^2.16 / (E D^3); beta 0.33..0.76, gamma 10..20,
/// angle 35..90 degrees. Outside extended. Throws what joint_ratios() throws.
JointFlexibility joint_flexibility(const TyJoint& joint, double youngs_mpa);

}  // namespace seamwright::joints
