// SPDX-License-Identifier: GPL-3.0-or-later
// The joint's bodies in the geometry kernel, made one: faces that touch are shared.
#pragma once

#include <TopoDS_Shape.hxx>
#include <vector>

#include "engine/solid/mesher/mesher.h"

namespace seamwright::solid::mesher {

struct Bodies {
  std::vector<TopoDS_Shape> solids;
  std::vector<int> part_of, seam_of;  ///< of each solid: its part or -1, its seam or -1; both of a fused ring
  std::vector<shape::Rung> welds;
  double planned_mm3 = 0;
};
/// Throws std::runtime_error where a part cannot be built, or where parts lie in each other.
Bodies bodies_of(const JointTask& task);

}  // namespace seamwright::solid::mesher
