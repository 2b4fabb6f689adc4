// SPDX-License-Identifier: GPL-3.0-or-later
// A joint as beams with springs at their feet: what its model is compared with, and scaled by.
#pragma once

#include <Eigen/Core>
#include <optional>

#include "engine/joints/efthymiou.h"
#include "engine/solid/joint_task.h"

namespace seamwright::solid {

/// Brace and chord of a seam as the equations have them; none where one of the two is no round tube.
std::optional<joints::TyJoint> equation_joint(const JointTask& task, const Seam& seam);

/// Flexibility of the joint's ends and seats as JointAnswer::flexibility has it, mm and N: beams along the tubes' axes, rigid to the
/// chords' surfaces, local flexibility at each foot by the recalled formula (joints::joint_flexibility). None where they hold nothing, or
/// a part is no round tube.
std::optional<Eigen::MatrixXd> sketched_flexibility(const JointTask& task);

}  // namespace seamwright::solid
