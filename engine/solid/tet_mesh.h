// SPDX-License-Identifier: GPL-3.0-or-later
// A body as tetrahedra of second order: plain data.
#pragma once

#include <Eigen/Core>
#include <array>
#include <utility>
#include <vector>

namespace seamwright::solid {

/// Corners 0 to 3, then the middles of 01, 12, 02, 03, 13, 23, as most finite-element programs count them.
using Tet = std::array<int, 10>;
inline constexpr std::array<std::pair<int, int>, 6> tet_edges{{{0, 1}, {1, 2}, {0, 2}, {0, 3}, {1, 3}, {2, 3}}};

/// Faces of a tetrahedron: three corners seen from outside against the clock, then the middles of 01, 12, 20.
inline constexpr std::array<std::array<int, 6>, 4> tet_faces{
    {{0, 2, 1, 6, 5, 4}, {0, 1, 3, 4, 8, 7}, {1, 2, 3, 5, 9, 8}, {0, 3, 2, 7, 9, 6}}};

struct TetMesh {
  Eigen::Matrix3Xd nodes;  ///< mm
  std::vector<Tet> tets;
  std::vector<int> piece;  ///< of each tetrahedron: the body it belongs to
};

}  // namespace seamwright::solid
