// SPDX-License-Identifier: GPL-3.0-or-later
// Shift-invert Lanczos (Spectra) with the Sturm count of K - mu M as proof that no mode is missed; the dense
// problem for small frames. Both solve M x = theta (K + sigma M) x, which asks only that no motion is without
// stiffness and mass at once.
#include "engine/frame/modes.h"

#include <Spectra/SymGEigsSolver.h>
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

/// M as Spectra asks for it.
struct Mass {
  using Scalar = double;
  const SparseMatrix& m;
  Eigen::Index rows() const { return m.rows(); }
  Eigen::Index cols() const { return m.cols(); }
  void perform_op(const double* from, double* to) const {
    Eigen::Map<Eigen::VectorXd>(to, rows()) = m * Eigen::Map<const Eigen::VectorXd>(from, rows());
  }
};

/// K + sigma M and its inverse.
struct ShiftedStiffness {
  using Scalar = double;
  const SparseMatrix& matrix;
  const Factor& factor;
  Eigen::Index rows() const { return matrix.rows(); }
  Eigen::Index cols() const { return matrix.cols(); }
  void perform_op(const double* from, double* to) const {
    Eigen::Map<Eigen::VectorXd>(to, rows()) = matrix * Eigen::Map<const Eigen::VectorXd>(from, rows());
  }
  void solve(const double* from, double* to) const {
    Eigen::Map<Eigen::VectorXd>(to, rows()) = factor.solve(Eigen::Map<const Eigen::VectorXd>(from, rows()));
  }
};

/// One step of inverse iteration and the pairs within what it spans (Bathe, Finite Element Procedures, 11.6):
/// takes out what is left of other modes, and parts those of equal frequency.
std::optional<Pairs> refined(const Problem& p, const Factor& factor, const Eigen::MatrixXd& vectors) {
  const Eigen::MatrixXd v = factor.solve(p.m * vectors);
  const Eigen::MatrixXd q =
      Eigen::HouseholderQR<Eigen::MatrixXd>(v).householderQ() * Eigen::MatrixXd::Identity(v.rows(), v.cols());
  const Eigen::MatrixXd m = q.transpose() * (p.m * q), s = q.transpose() * (p.shifted * q);
  const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> ritz(m, s);
  if (ritz.info() != Eigen::Success) return std::nullopt;
  return from_theta(ritz.eigenvalues(), q * ritz.eigenvectors(), p.sigma);
}

/// The `wanted` pairs up to the limit; nullopt when not all are found.
std::optional<Pairs> lanczos_pairs(const Problem& p, const Factor& factor, Eigen::Index wanted,
                                   double limit) {
  Mass mass{p.m};
  ShiftedStiffness shifted{p.shifted, factor};
  Spectra::SymGEigsSolver<Mass, ShiftedStiffness, Spectra::GEigsMode::RegularInverse> solver(
      mass, shifted, wanted, std::min(p.m.rows(), 2 * wanted + 8));
  solver.init();
  if (solver.compute(Spectra::SortRule::LargestAlge, 300, 1e-13) < wanted) return std::nullopt;
  // One beyond the limit stands for one below it that was missed.
  if (solver.eigenvalues().minCoeff() * (limit + p.sigma) < 1) return std::nullopt;
  std::optional<Pairs> pairs = refined(p, factor, solver.eigenvectors());
  return pairs && pairs->lambda.size() == wanted ? pairs : std::nullopt;
}

/// A rigid motion's strain energy is what rounding leaves of terms that cancel.
bool is_rigid(const Problem& p, const Eigen::VectorXd& x) {
  const Eigen::VectorXd force = p.k * x;
  Eigen::VectorXd terms = Eigen::VectorXd::Zero(x.size());
  for (Eigen::Index c = 0; c < p.k.outerSize(); ++c)
    for (SparseMatrix::InnerIterator it(p.k, c); it; ++it) terms[it.row()] += std::abs(it.value() * x[c]);
  return std::abs(x.dot(force)) <= 1e-12 * x.cwiseAbs().dot(terms);
}

Modes kept_modes(const Assembly& a, const Problem& p, const Pairs& pairs, double limit) {
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
    const double most = limit * (1 + 1e-9);
    const Eigen::Index wanted = count_below(p, most);
    if (wanted == 0) return kept_modes(assembly, p, {}, limit);
    if (wanted > 0 && wanted < p.k.rows() / 4)
      if (const auto pairs = lanczos_pairs(p, factor, wanted, most))
        return kept_modes(assembly, p, *pairs, limit);
  }
  Modes whole = kept_modes(assembly, p, dense_pairs(p), limit);
  whole.dense = true;
  return whole;
}

}  // namespace seamwright::frame
