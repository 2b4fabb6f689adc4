// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/without_element.h"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>

namespace seamwright::loads {

std::optional<Eigen::MatrixXd> displacements_without(const PosedTrike& trike, const frame::Element& gone,
                                                     const Eigen::MatrixXd& displacements) {
  constexpr double held = 1e-8;
  const Eigen::SelfAdjointEigenSolver<frame::Matrix12> own(0.5 * (gone.stiffness + gone.stiffness.transpose()));
  // Six motions of twelve bend the element; the others move it as a whole.
  const Eigen::Matrix<double, 12, 6> bent =
      own.eigenvectors().rightCols<6>() * own.eigenvalues().tail<6>().cwiseMax(0).cwiseSqrt().asDiagonal();
  const Eigen::Matrix<double, 12, 6> at_nodes = gone.to_local.transpose() * bent;
  Eigen::MatrixXd b = Eigen::MatrixXd::Zero(displacements.rows(), 6);
  b.middleRows<6>(6 * static_cast<Eigen::Index>(gone.first)) += at_nodes.topRows<6>();
  b.middleRows<6>(6 * static_cast<Eigen::Index>(gone.second)) += at_nodes.bottomRows<6>();
  const Eigen::MatrixXd answers = trike.displacements(b);
  const Eigen::Matrix<double, 6, 6> left = Eigen::Matrix<double, 6, 6>::Identity() - b.transpose() * answers;
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix<double, 6, 6>> motions(0.5 * (left + left.transpose()));
  if (motions.eigenvalues()[0] < held) return std::nullopt;
  return displacements + answers * left.ldlt().solve(b.transpose() * displacements);
}

}  // namespace seamwright::loads
