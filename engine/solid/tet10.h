// SPDX-License-Identifier: GPL-3.0-or-later
// The tetrahedron of second order: isoparametric, ten nodes, four Gauss points (Zienkiewicz, Taylor & Zhu, The Finite
// Element Method, 6th ed. 2005, sections 4.10 and 5.11: exact to the second degree). N, mm, MPa.
#pragma once

#include "engine/solid/tet_mesh.h"

namespace seamwright::solid {

struct Elastic {
  double youngs_mpa = 0, poisson = 0;
  bool operator==(const Elastic&) const = default;
};

using Corners = Eigen::Matrix<double, 3, 10>;  ///< places of a tetrahedron's nodes
using Stress = Eigen::Matrix<double, 6, 1>;    ///< xx, yy, zz, xy, yz, zx

Corners corners_of(const TetMesh& mesh, const Tet& tet);

/// 30 x 30, N/mm; node by node x, y, z. `volume_mm3` and the smallest Jacobian at the Gauss points and corners come with it:
/// not above 0 for an element that is turned inside out.
struct TetMatrices {
  Eigen::Matrix<double, 30, 30> stiffness;
  double volume_mm3 = 0, least_jacobian = 0;
};
TetMatrices tet_matrices(const Corners& places, const Elastic& steel);

/// Stress at the four Gauss points drawn on linearly to the ten nodes: 60 x 30, MPa per mm, rows node by node.
Eigen::Matrix<double, 60, 30> nodal_stress_map(const Corners& places, const Elastic& steel);

/// Smallest Jacobian at the Gauss points and corners, mm3.
double least_jacobian(const Corners& places);

}  // namespace seamwright::solid
