// SPDX-License-Identifier: GPL-3.0-or-later
// Bodies ride on the frame or hold it: rigid bodies, sprung masses, dashpots, tyres. Units: N, mm, s, tonne.
#pragma once

#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <vector>

namespace seamwright::frame {

using Triplets = std::vector<Eigen::Triplet<double>>;

/// A row over full degrees of freedom, with few entries.
struct SparseRow {
  std::vector<Eigen::Index> dofs;
  std::vector<double> values;
};

/// A damper: its force is the rate times the speed of the motion that the row measures, N s/mm.
struct Dashpot {
  SparseRow row;
  double rate = 0;
};

/// Terms of the full matrices as they are gathered.
struct Parts {
  Triplets stiffness, mass;
  std::vector<Dashpot> dashpots;
};

/// Adds the block's terms at the given full degrees of freedom.
void add_block(Triplets& into, const std::vector<Eigen::Index>& dofs, const Eigen::MatrixXd& block);
/// Adds factor * row' row.
void add_outer(Triplets& into, double factor, const SparseRow& row);
/// Adds a damper; one without rate is none.
void add_dashpot(Parts& parts, double rate_n_s_mm, const SparseRow& row);

/// The six full degrees of freedom of each node, in their order.
std::vector<Eigen::Index> node_dofs(const std::vector<std::size_t>& nodes);

/// Motion along a direction of the point that the node carries on an arm: d . (u + theta x arm).
SparseRow carried_direction(std::size_t node, const Eigen::Vector3d& arm_mm,
                            const Eigen::Vector3d& direction);

/// A rigid body: tonne, tonne mm2 about its own centre along x, y, z.
struct Body {
  double mass_t = 0;
  Eigen::Vector3d inertia_t_mm2{0, 0, 0};
  Eigen::Vector3d centre_mm{0, 0, 0};
};

/// The body's six motions at its centre from the carriers' displacements, 6 x 6 n: rigid for one carrier, the
/// least-squares rigid motion of the carriers' translations for three and more. A matrix without columns when
/// the carriers stand in line (second spread below 1e-3 of the first).
Eigen::MatrixXd carried_motion(const Eigen::Vector3d& centre_mm,
                               const std::vector<Eigen::Vector3d>& carriers_mm);

/// Adds the body carried through the given motion.
void add_body(Parts& parts, const Body& body, const Eigen::MatrixXd& motion,
              const std::vector<std::size_t>& nodes);

}  // namespace seamwright::frame
