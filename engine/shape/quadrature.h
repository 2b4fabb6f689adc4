// SPDX-License-Identifier: GPL-3.0-or-later
// Volume, centre and inertia of a part without any kernel: fibres along the tube, cut in closed form. Every
// body of the kernel is held against it.
#pragma once

#include <optional>

#include "engine/shape/fibre.h"
#include "engine/shape/part.h"
#include "engine/shape/solid.h"

namespace seamwright::shape {

/// Gauss points through the wall times equal angles around: round tubes to 1e-5 of the volume where cuts are
/// smooth, 1e-4 where they meet in a corner. Surface is left 0. None for sections that are not round, and for
/// plates that are cut.
std::optional<Quantities> quadrature(const Part& part);

/// The cuts leave this of a fibre of a part's stretch, at this radius and angle (from `up`, right-handed), mm from
/// the stretch's start.
std::vector<Interval> fibre_of(const Part& part, std::size_t stretch, double radius_mm, double angle_rad);

}  // namespace seamwright::shape
