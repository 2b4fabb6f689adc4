// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/frame/bodies.h"

#include <Eigen/Dense>

#include "engine/frame/element.h"

namespace seamwright::frame {
namespace {

using Matrix6 = Eigen::Matrix<double, 6, 6>;

/// Motion of a point on a rigid arm from the motion of its base.
Matrix6 arm_motion(const Eigen::Vector3d& arm) {
  Matrix6 p = Matrix6::Identity();
  p.block<3, 3>(0, 3) = -cross_matrix(arm);
  return p;
}

/// Least-squares rigid motion at the carriers' middle. Rotations are scaled by the spread, so that the
/// problem is well conditioned in any unit. No columns when the carriers stand in line.
Eigen::MatrixXd fitted_motion(const Eigen::Vector3d& middle, const std::vector<Eigen::Vector3d>& carriers) {
  const auto n = static_cast<Eigen::Index>(carriers.size());
  Eigen::MatrixXd spread(3, n);
  for (Eigen::Index i = 0; i < n; ++i) spread.col(i) = carriers[static_cast<std::size_t>(i)] - middle;
  const Eigen::Vector3d singular = Eigen::JacobiSVD<Eigen::MatrixXd>(spread).singularValues();
  if (!(singular[1] > 1e-3 * singular[0])) return {};
  const double scale = spread.colwise().norm().maxCoeff();
  Eigen::MatrixXd a(3 * n, 6);
  for (Eigen::Index i = 0; i < n; ++i) {
    a.block<3, 3>(3 * i, 0).setIdentity();
    a.block<3, 3>(3 * i, 3) = -cross_matrix(spread.col(i) / scale);
  }
  Eigen::MatrixXd w = (a.transpose() * a).ldlt().solve(a.transpose());
  w.bottomRows(3) /= scale;
  Eigen::MatrixXd motion = Eigen::MatrixXd::Zero(6, 6 * n);
  for (Eigen::Index i = 0; i < n; ++i) motion.middleCols(6 * i, 3) = w.middleCols(3 * i, 3);
  return motion;
}

}  // namespace

void add_block(Triplets& into, const std::vector<Eigen::Index>& dofs, const Eigen::MatrixXd& block) {
  for (std::size_t i = 0; i < dofs.size(); ++i)
    for (std::size_t j = 0; j < dofs.size(); ++j) {
      const double v = block(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j));
      if (v != 0) into.emplace_back(dofs[i], dofs[j], v);
    }
}

void add_outer(Triplets& into, double factor, const SparseRow& row) {
  if (factor == 0) return;
  for (std::size_t i = 0; i < row.dofs.size(); ++i)
    for (std::size_t j = 0; j < row.dofs.size(); ++j)
      into.emplace_back(row.dofs[i], row.dofs[j], factor * row.values[i] * row.values[j]);
}

void add_dashpot(Parts& parts, double rate_n_s_mm, const SparseRow& row) {
  if (rate_n_s_mm != 0) parts.dashpots.push_back({row, rate_n_s_mm});
}

std::vector<Eigen::Index> node_dofs(const std::vector<std::size_t>& nodes) {
  std::vector<Eigen::Index> dofs;
  dofs.reserve(6 * nodes.size());
  for (const std::size_t node : nodes)
    for (Eigen::Index i = 0; i < 6; ++i) dofs.push_back(6 * static_cast<Eigen::Index>(node) + i);
  return dofs;
}

SparseRow carried_direction(std::size_t node, const Eigen::Vector3d& arm_mm,
                            const Eigen::Vector3d& direction) {
  const Eigen::Vector3d rotation = arm_mm.cross(direction);
  SparseRow row;
  for (Eigen::Index i = 0; i < 6; ++i) {
    const double v = i < 3 ? direction[i] : rotation[i - 3];
    if (v == 0) continue;
    row.dofs.push_back(6 * static_cast<Eigen::Index>(node) + i);
    row.values.push_back(v);
  }
  return row;
}

Eigen::MatrixXd carried_motion(const Eigen::Vector3d& centre_mm,
                               const std::vector<Eigen::Vector3d>& carriers_mm) {
  if (carriers_mm.size() == 1) return arm_motion(centre_mm - carriers_mm.front());
  Eigen::Vector3d middle = Eigen::Vector3d::Zero();
  for (const Eigen::Vector3d& c : carriers_mm) middle += c / static_cast<double>(carriers_mm.size());
  const Eigen::MatrixXd fitted = fitted_motion(middle, carriers_mm);
  if (fitted.cols() == 0) return fitted;
  return arm_motion(centre_mm - middle) * fitted;
}

void add_body(Parts& parts, const Body& body, const Eigen::MatrixXd& motion,
              const std::vector<std::size_t>& nodes) {
  Eigen::VectorXd inertia(6);
  inertia << Eigen::Vector3d::Constant(body.mass_t), body.inertia_t_mm2;
  add_block(parts.mass, node_dofs(nodes), motion.transpose() * inertia.asDiagonal() * motion);
}

}  // namespace seamwright::frame
