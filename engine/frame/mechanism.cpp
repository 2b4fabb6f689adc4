// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/frame/mechanism.h"

#include <Eigen/Dense>
#include <Eigen/SparseCholesky>
#include <cmath>
#include <set>

#include "engine/frame/check.h"

namespace seamwright::frame {
namespace {

/// Fixed, irregular start vectors: no symmetry of a frame is orthogonal to them.
Eigen::MatrixXd start_vectors(Eigen::Index size, Eigen::Index count) {
  Eigen::MatrixXd v(size, count);
  for (Eigen::Index j = 0; j < count; ++j)
    for (Eigen::Index i = 0; i < size; ++i)
      v(i, j) = std::sin(12.9898 * static_cast<double>(i + 1) + 78.233 * static_cast<double>(j + 1)) +
                0.1 * std::cos(static_cast<double>(i * (j + 2)));
  return v;
}

Eigen::MatrixXd orthonormal_basis(const Eigen::MatrixXd& v) {
  return Eigen::HouseholderQR<Eigen::MatrixXd>(v).householderQ() *
         Eigen::MatrixXd::Identity(v.rows(), v.cols());
}

struct LargestMotion {
  std::size_t node = 0;
  Eigen::Index axis = 0;
  double size = 0;
};

LargestMotion largest_of(const Assembly& a, const Eigen::VectorXd& motion, Eigen::Index offset) {
  LargestMotion best;
  for (std::size_t n = 0; n < a.node_ids.size(); ++n)
    for (Eigen::Index i = 0; i < 3; ++i) {
      const double v = std::abs(motion[6 * static_cast<Eigen::Index>(n) + offset + i]);
      // A later node must move clearly more, so that rounding does not choose among equals.
      if (v > best.size * (1 + 1e-6)) best = {n, i, v};
    }
  return best;
}

[[noreturn]] void throw_named(const Assembly& a, const Eigen::VectorXd& motion) {
  const LargestMotion shift = largest_of(a, motion, 0), turn = largest_of(a, motion, 3);
  const bool shifts = shift.size > 1e-3 * a.extent_mm * turn.size;
  const LargestMotion& most = shifts ? shift : turn;
  static constexpr std::array<const char*, 6> words{
      "ux", "uy", "uz", "rotation about x", "rotation about y", "rotation about z"};
  std::vector<std::string> members;
  for (const Element& e : a.elements)
    if (e.first == most.node || e.second == most.node) members.push_back(e.id);
  throw Fault{Message{"frame.mechanism",
                      {text("node", a.node_ids[most.node]),
                       text("direction", words[static_cast<std::size_t>(most.axis + (shifts ? 0 : 3))]),
                       text("members", list_of(members))}}};
}

}  // namespace

Eigen::VectorXd unit_scaling(const SparseMatrix& matrix) {
  Eigen::VectorXd scale = matrix.diagonal();
  for (double& v : scale) v = v > 0 ? 1 / std::sqrt(v) : 1;
  return scale;
}

Eigen::MatrixXd free_motions(const SparseMatrix& unit_diagonal) {
  const Eigen::Index n = unit_diagonal.rows(), count = std::min<Eigen::Index>(8, n);
  SparseMatrix shifted = unit_diagonal, identity(n, n);
  identity.setIdentity();
  shifted += 1e-9 * identity;
  const Eigen::SimplicialLDLT<SparseMatrix> factor(shifted);
  if (factor.info() != Eigen::Success) return {};
  Eigen::MatrixXd v = orthonormal_basis(start_vectors(n, count));
  Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> ritz;
  for (int round = 0; round < 6; ++round) {
    v = orthonormal_basis(factor.solve(v));
    ritz.compute(v.transpose() * (unit_diagonal * v));
    v = v * ritz.eigenvectors();
  }
  Eigen::Index found = 0;
  while (found < count && ritz.eigenvalues()[found] < 1e-13) ++found;
  return v.leftCols(found);
}

void throw_mechanism(const Assembly& a, const Eigen::MatrixXd& motions, const Eigen::MatrixXd& phi) {
  if (phi.rows() == 0) throw_named(a, motions.col(0));
  // The combination of free motions that turns the hinges least tells whether something else is loose as
  // well.
  const Eigen::JacobiSVD<Eigen::MatrixXd> svd(phi, Eigen::ComputeFullV);
  const Eigen::VectorXd mix = svd.matrixV().rightCols(1);
  const Eigen::VectorXd motion = motions * mix, turns = phi * mix;
  Eigen::Index hinge = 0;
  const double turn = turns.cwiseAbs().maxCoeff(&hinge);
  double size = 0;
  for (std::size_t n = 0; n < a.node_ids.size(); ++n) {
    const auto first = 6 * static_cast<Eigen::Index>(n);
    size = std::max(size, motion.segment<3>(first + 3).norm());
    size = std::max(size, motion.segment<3>(first).norm() / std::max(a.extent_mm, 1.0));
  }
  if (turn < 1e-3 * size) throw_named(a, motion);
  throw Fault{Message{"frame.unlinked-hinge",
                      {text("hinge", a.hinges[static_cast<std::size_t>(hinge)].id),
                       sentence_argument("remedy", "remedy.link")}}};
}

void refuse_mechanism(const Assembly& a, const SparseMatrix& basis, const SparseMatrix& reduced_stiffness,
                      const std::vector<Eigen::Index>& columns_of_hinge) {
  const Eigen::VectorXd scale = unit_scaling(reduced_stiffness);
  const SparseMatrix unit = scale.asDiagonal() * reduced_stiffness * scale.asDiagonal();
  const Eigen::MatrixXd found = free_motions(unit);
  if (found.cols() == 0) return;
  const Eigen::MatrixXd reduced = scale.asDiagonal() * found;
  Eigen::MatrixXd phi(static_cast<Eigen::Index>(columns_of_hinge.size()), found.cols());
  for (std::size_t h = 0; h < columns_of_hinge.size(); ++h)
    phi.row(static_cast<Eigen::Index>(h)) = reduced.row(columns_of_hinge[h]);
  throw_mechanism(a, basis * reduced, phi);
}

}  // namespace seamwright::frame
