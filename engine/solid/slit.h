// SPDX-License-Identifier: GPL-3.0-or-later
// Roots that are not fused: the meshes of two tubes that touch come apart where no weld metal holds them.
#pragma once

#include <utility>
#include <vector>

#include "engine/solid/tet_mesh.h"

namespace seamwright::solid {

/// A piece of the mesh is one of these to its neighbours: weld metal joins what it touches; members touch each other without being joined;
/// anything else is one with what it touches.
enum class PieceKind { weld, member, other };
struct PieceRole {
  PieceKind kind = PieceKind::other;
  int part = 0;  ///< pieces of the same part stay together
};

/// Doubles the nodes between members, except those that weld metal shares and those between the pairs of parts named as fused.
/// Returns how many nodes came to be.
int open_slits(TetMesh& mesh, const std::vector<PieceRole>& roles, const std::vector<std::pair<int, int>>& fused);

}  // namespace seamwright::solid
