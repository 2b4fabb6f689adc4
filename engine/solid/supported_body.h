// SPDX-License-Identifier: GPL-3.0-or-later
// A meshed body held by rigid ends: the equations, their solution for unit loads, and what follows from it at once.
#pragma once

#include <Eigen/SparseCore>
#include <functional>
#include <vector>

#include "engine/frame/vector.h"
#include "engine/solid/tet10.h"

namespace seamwright::solid {

using frame::Vec3;

/// Nodes that move as one rigid body, with six degrees of freedom at a place: a member sawn off.
struct RigidEnd {
  Vec3 at{0, 0, 0};
  std::vector<int> nodes;
};
/// Nodes that share a load and stay free: force and moment at a place spread over them in the sense of least squares; their
/// motion is that of the rigid body that fits theirs best.
struct LooseSeat {
  Vec3 at{0, 0, 0};
  std::vector<int> nodes;
};

struct SupportedBody {
  const TetMesh& mesh;
  Elastic steel;
  std::vector<RigidEnd> ends;  ///< the first is held
  std::vector<LooseSeat> seats;
};

/// Solves K x = b for a symmetric positive definite matrix of which the lower half is given. Throws std::runtime_error where it
/// is not definite: something hangs free.
using Solver = std::function<Eigen::MatrixXd(const Eigen::SparseMatrix<double>& lower, const Eigen::MatrixXd& loads)>;

/// Columns: unit forces x, y, z (N) and moments (N mm) at the ends from the second on, then at the seats, six each, in the
/// axes of the mesh.
struct UnitAnswers {
  Eigen::MatrixXd moved;        ///< 3 nodes x columns, mm
  Eigen::MatrixXd flexibility;  ///< columns x columns: motion of the loaded places, mm and rad
  double volume_mm3 = 0;
  double residual = 0;     ///< largest force left at a free node over the largest load, of unit loads scaled by the body's size
  double reaction = 0;     ///< what the held end does not balance of a load, as a share of it
  Eigen::Index unknowns = 0;
};

/// Throws what the solver throws, and std::runtime_error for an element turned inside out, or an end without three nodes.
UnitAnswers unit_answers(const SupportedBody& body, const Solver& solver);

/// Forces that hold the elements marked at these nodes in each column: three rows for each node in their order.
Eigen::MatrixXd nodal_forces(const SupportedBody& body, const std::vector<bool>& elements, const std::vector<int>& nodes,
                             const Eigen::MatrixXd& moved);

}  // namespace seamwright::solid
