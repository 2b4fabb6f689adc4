// SPDX-License-Identifier: GPL-3.0-or-later
// Rows over forces at a joint's ends are compared by this: forces of one size in kind.
#pragma once

#include <Eigen/Core>

#include "engine/solid/joint_task.h"

namespace seamwright::solid {

/// Forces (N) and moments (N mm) that make 1 MPa in the tube that goes on at each end from the second on; nothing at the seats.
Eigen::VectorXd usual_forces(const JointTask& task);

}  // namespace seamwright::solid
