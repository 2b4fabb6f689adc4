// SPDX-License-Identifier: GPL-3.0-or-later
// Shift-invert subspace iteration (Bathe, Finite Element Procedures, section 11.6) with the Sturm count of K
// - mu M as proof that no mode is missed; the dense problem for small frames. Both solve M x = theta (K +
// sigma M) x, which asks only that no motion is without stiffness and mass at once.
#include "engine/frame/modes.h"

#include <Eigen/Dense>
#include <Eigen/SparseCholesky>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "engine/frame/check.h"
#include "engine/frame/mechanism.h"

namespace seamwright::frame {
namespace {

using Factor = Eigen::SimplicialLDLT<SparseMatrix>;

/// The reduced problem with its unknowns scaled so that K + sigma M has a unit diagonal.
struct Problem {
  SparseMatrix k, m, shifted;
  double sigma = 0;
  Eigen::VectorXd scale;
};

/// Eigenvalues ascending (1/s2) and vectors with x' (K + sigma M) x = 1.
struct Pairs {
  Eigen::VectorXd lambda;
  Eigen::MatrixXd vectors;
};

Problem problem_of(const Assembly& a, double limit) {
  Problem p;
  p.k = a.expand.transpose() * a.stiffness * a.expand;
  p.m = a.expand.transpose() * a.mass * a.expand;
  p.sigma = 0.02 * limit;
  p.shifted = p.k + p.sigma * p.m;
  p.scale = unit_scaling(p.shifted);
  for (SparseMatrix* s : {&p.k, &p.m, &p.shifted}) *s = p.scale.asDiagonal() * *s * p.scale.asDiagonal();
  return p;
}

/// Number of eigenvalues below mu (Sylvester's law of inertia).
Eigen::Index count_below(const Problem& p, double mu) {
  const Factor f(p.k - mu * p.m);
  if (f.info() != Eigen::Success) return -1;
  return (f.vectorD().array() < 0).count();
}

Pairs from_theta(const Eigen::VectorXd& theta_ascending, const Eigen::MatrixXd& vectors, double sigma) {
  Eigen::Index positive = 0;
  const Eigen::Index n = theta_ascending.size();
  const double smallest = n > 0 ? 1e-14 * theta_ascending[n - 1] : 0;
  while (positive < n && theta_ascending[n - 1 - positive] > smallest) ++positive;
  Pairs pairs;
  pairs.lambda = theta_ascending.tail(positive).reverse().cwiseInverse().array() - sigma;
  pairs.vectors = vectors.rightCols(positive).rowwise().reverse();
  return pairs;
}

Pairs dense_pairs(const Problem& p) {
  const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> solver{Eigen::MatrixXd(p.m),
                                                                         Eigen::MatrixXd(p.shifted)};
  return from_theta(solver.eigenvalues(), solver.eigenvectors(), p.sigma);
}

Eigen::MatrixXd start_block(const Problem& p, Eigen::Index count) {
  Eigen::MatrixXd v(p.k.rows(), count);
  for (Eigen::Index j = 0; j < count; ++j)
    for (Eigen::Index i = 0; i < v.rows(); ++i)
      v(i, j) =
          std::sin(12.9898 * static_cast<double>(i + 1) + 78.233 * static_cast<double>((j + 1) * (j + 1)));
  return v;
}

/// The wanted lowest pairs; nullopt when the iteration does not settle.
std::optional<Pairs> subspace_pairs(const Problem& p, const Factor& factor, Eigen::Index wanted) {
  const Eigen::Index block = std::min(p.k.rows(), 2 * wanted + 8);
  Eigen::MatrixXd v = start_block(p, block);
  Eigen::VectorXd before = Eigen::VectorXd::Zero(wanted);
  for (int round = 0; round < 60; ++round) {
    v = factor.solve(p.m * v);
    // Directions that M does not see have died out; what is left spans less than the block.
    const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(v);
    const Eigen::Index rank = std::min(block, qr.rank());
    if (rank < wanted) return std::nullopt;
    const Eigen::MatrixXd q = qr.householderQ() * Eigen::MatrixXd::Identity(v.rows(), rank);
    const Eigen::MatrixXd m = q.transpose() * (p.m * q), s = q.transpose() * (p.shifted * q);
    const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> ritz(m, s);
    if (ritz.info() != Eigen::Success) return std::nullopt;
    const Pairs pairs = from_theta(ritz.eigenvalues(), q * ritz.eigenvectors(), p.sigma);
    if (pairs.lambda.size() < wanted) return std::nullopt;
    v = pairs.vectors;
    const Eigen::VectorXd now = pairs.lambda.head(wanted);
    const Eigen::ArrayXd change = (now - before).array().abs() / (now.array() + p.sigma);
    if (round > 2 && change.maxCoeff() < 1e-12) return Pairs{now, pairs.vectors.leftCols(wanted)};
    before = now;
  }
  return std::nullopt;
}

/// A rigid motion's strain energy is what rounding leaves of terms that cancel.
bool is_rigid(const Problem& p, const Eigen::VectorXd& x) {
  const Eigen::VectorXd force = p.k * x;
  Eigen::VectorXd terms = Eigen::VectorXd::Zero(x.size());
  for (Eigen::Index c = 0; c < p.k.outerSize(); ++c)
    for (SparseMatrix::InnerIterator it(p.k, c); it; ++it) terms[it.row()] += std::abs(it.value() * x[c]);
  return std::abs(x.dot(force)) <= 1e-12 * x.cwiseAbs().dot(terms);
}

Modes kept(const Assembly& a, const Problem& p, const Pairs& pairs, double limit) {
  Eigen::Index count = 0;
  while (count < pairs.lambda.size() && pairs.lambda[count] <= limit) ++count;
  Modes modes;
  modes.frequency_hz.resize(count);
  modes.shapes.resize(a.full_size, count);
  for (Eigen::Index i = 0; i < count; ++i) {
    Eigen::VectorXd x = pairs.vectors.col(i);
    x /= std::sqrt(x.dot(p.m * x));
    const double lambda = is_rigid(p, x) ? 0 : std::max(pairs.lambda[i], 0.0);
    modes.frequency_hz[i] = std::sqrt(lambda) / (2 * std::numbers::pi);
    Eigen::VectorXd shape = a.expand * p.scale.cwiseProduct(x);
    Eigen::Index largest = 0;
    shape.cwiseAbs().maxCoeff(&largest);
    modes.shapes.col(i) = shape[largest] < 0 ? Eigen::VectorXd(-shape) : shape;
  }
  return modes;
}

}  // namespace

Modes modes(const Assembly& assembly, double up_to_hz) {
  check_number("up_to_hz", "modes", up_to_hz, "Hz", 1e-3, 1e6);
  if (assembly.expand.cols() == 0) throw Fault{Message{"frame.all-held", {}}};
  const double omega = 2 * std::numbers::pi * up_to_hz, limit = omega * omega;
  const Problem p = problem_of(assembly, limit);
  const Factor factor(p.shifted);
  if (factor.info() != Eigen::Success || !(factor.vectorD().minCoeff() > 1e-9)) {
    std::vector<Eigen::Index> hinge_columns;
    for (const HingeColumn& h : assembly.hinges) hinge_columns.push_back(h.column);
    const SparseMatrix full = assembly.stiffness + p.sigma * assembly.mass;
    refuse_mechanism(assembly, assembly.expand, assembly.expand.transpose() * full * assembly.expand,
                     hinge_columns);
  }
  constexpr Eigen::Index small = 60;
  if (p.k.rows() > small) {
    const Eigen::Index wanted = count_below(p, limit * (1 + 1e-9));
    if (wanted == 0) return kept(assembly, p, {}, limit);
    if (wanted > 0 && wanted < p.k.rows() / 4)
      if (const auto pairs = subspace_pairs(p, factor, wanted)) return kept(assembly, p, *pairs, limit);
  }
  return kept(assembly, p, dense_pairs(p), limit);
}

}  // namespace seamwright::frame
