// SPDX-License-Identifier: GPL-3.0-or-later
// The ring of a brace's end that a weld has fused: weld metal within the brace's own wall.
#pragma once

#include <TopoDS_Shape.hxx>

#include "engine/solid/joint_task.h"

namespace seamwright::solid::mesher {

/// The part of the brace's body between its outer surface and the depth of fusion, no further above the chord's surface than that depth, and
/// no further than a quarter as far as the brace's toe. whole: no other brace takes any of it away. Throws std::runtime_error where its volume is not that of the closed form.
TopoDS_Shape fused_ring(const Seam& seam, const TopoDS_Shape& brace, bool whole);

}  // namespace seamwright::solid::mesher
