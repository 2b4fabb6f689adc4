// SPDX-License-Identifier: GPL-3.0-or-later
// A mesh tells its own error by its jumps of stress: Zienkiewicz & Zhu, Int. J. Numer. Methods Eng. 24 (1987) 337 [from memory].
#pragma once

#include <vector>

#include "engine/solid/supported_body.h"

namespace seamwright::solid {

/// Relative error of the elements marked in the norm of energy: root of the energy of the stress averaged at nodes less the elements' own, over
/// theirs. All columns of displacements count, each weighted by its usual force; 0 where nothing is strained. A bound rather than the error of
/// a section's force, which falls with its square (docs/methods/joints.md has both beside each other).
double mesh_error(const SupportedBody& body, const std::vector<bool>& elements, const Eigen::MatrixXd& moved, const Eigen::VectorXd& usual_forces);

}  // namespace seamwright::solid
