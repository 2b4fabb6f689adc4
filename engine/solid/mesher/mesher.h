// SPDX-License-Identifier: GPL-3.0-or-later
// A joint's task becomes a mesh: the door to geometry kernel, mesher and solver of the worker program. Not safe for threads.
#pragma once

#include "engine/solid/joint_answer.h"

namespace seamwright::solid::mesher {

/// Throws std::runtime_error with the reason where a body cannot be built or meshed.
MeshedJoint mesh_of(const JointTask& task);

/// CHOLMOD with nested dissection (METIS).
Eigen::MatrixXd solve(const Eigen::SparseMatrix<double>& lower, const Eigen::MatrixXd& loads);

}  // namespace seamwright::solid::mesher
