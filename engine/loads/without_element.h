// SPDX-License-Identifier: GPL-3.0-or-later
// The trike with one piece of tube that carries nothing any more, though it is still there with its mass.
#pragma once

#include <optional>

#include "engine/loads/posed_trike.h"

namespace seamwright::loads {

/// Displacements (full x cases) without an element of the trike's assembly, from those with it: K - B B' with the six
/// motions that bend the element (Sherman-Morrison-Woodbury). Nothing where a motion is left that keeps less than 1e-8
/// of its stiffness: a mechanism.
std::optional<Eigen::MatrixXd> displacements_without(const PosedTrike& trike, const frame::Element& gone,
                                                     const Eigen::MatrixXd& displacements);

}  // namespace seamwright::loads
