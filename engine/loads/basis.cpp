// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/basis.h"

#include <Eigen/Eigenvalues>
#include <numbers>

#include "engine/frame/statics.h"

namespace seamwright::loads {
namespace {

/// What moves without inertia is given this frequency: far above every road's, so that it follows at once.
constexpr double massless_hz = 1e4;

Shapes side_by_side(const Eigen::MatrixXd& first, const Eigen::VectorXd& first_omega, const Shapes& more) {
  Shapes s;
  s.shapes.resize(first.rows(), first.cols() + more.shapes.cols());
  s.shapes << first, more.shapes;
  s.omega_rad_s.resize(first_omega.size() + more.omega_rad_s.size());
  s.omega_rad_s << first_omega, more.omega_rad_s;
  return s;
}

}  // namespace

Shapes remainders(const Eigen::MatrixXd& rest, const Eigen::MatrixXd& forces, const frame::SparseMatrix& mass,
                  Inertia inertia) {
  constexpr double same = 1e-9;  // of the stiffest direction, each force scaled to its own answer
  const Eigen::MatrixXd product = forces.transpose() * rest;
  const Eigen::VectorXd own = product.diagonal().cwiseMax(0);
  const Eigen::VectorXd scale = own.unaryExpr([](double x) { return x > 0 ? 1 / std::sqrt(x) : 0.0; });
  const Eigen::MatrixXd energy =
      scale.asDiagonal() * Eigen::MatrixXd(0.5 * (product + product.transpose())) * scale.asDiagonal();
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> apart(energy);
  Eigen::Index first = 0;  // ascending
  while (first < own.size() && !(apart.eigenvalues()[first] > same * apart.eigenvalues()[own.size() - 1]))
    ++first;
  const Eigen::Index count = own.size() - first;
  const Eigen::VectorXd shrink = apart.eigenvalues().tail(count).cwiseSqrt().cwiseInverse();
  const Eigen::MatrixXd unit =
      rest * (scale.asDiagonal() * apart.eigenvectors().rightCols(count) * shrink.asDiagonal());
  // Each a little stiffer than the one before, so that no two have one pole.
  const Eigen::ArrayXd stiffest =
      2 * std::numbers::pi * massless_hz *
      (1 + 0.1 * Eigen::ArrayXd::LinSpaced(count, 0, static_cast<double>(count - 1)));
  if (inertia == Inertia::left_out) return {unit * stiffest.matrix().asDiagonal(), stiffest};
  // Of unit strain energy each: their mass is one over the square of the frequency.
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> moving(unit.transpose() * (mass * unit));
  Shapes s;
  s.omega_rad_s = moving.eigenvalues().array().max(stiffest.square().inverse()).rsqrt();
  s.shapes = unit * moving.eigenvectors() * s.omega_rad_s.asDiagonal();
  return s;
}

Shapes ritz_shapes(const frame::Assembly& assembly, const frame::Modes& modes,
                   const Eigen::VectorXd& free_motion, const Eigen::MatrixXd& forces) {
  Eigen::MatrixXd kept(assembly.full_size, modes.shapes.cols() + 1);
  kept << free_motion, modes.shapes;
  // The kept motions' inertia balances what drives them, so that only the rest is left to bend.
  const Eigen::MatrixXd inertia = assembly.mass * kept;
  Eigen::MatrixXd rest =
      frame::Statics(assembly).solve(forces - inertia * (kept.transpose() * forces)).displacements;
  rest -= kept * (inertia.transpose() * rest);
  return side_by_side(modes.shapes, 2 * std::numbers::pi * modes.frequency_hz,
                      remainders(rest, forces, assembly.mass, Inertia::counted));
}

Shapes lowest_and_static(const Shapes& all, Eigen::Index lowest, const Eigen::MatrixXd& forces,
                         const frame::SparseMatrix& mass) {
  const Eigen::Index others = all.omega_rad_s.size() - lowest;
  const Eigen::MatrixXd shapes = all.shapes.rightCols(others);
  const Eigen::VectorXd soft = all.omega_rad_s.tail(others).array().square().inverse();
  const Eigen::MatrixXd rest = shapes * (soft.asDiagonal() * (shapes.transpose() * forces));
  return side_by_side(all.shapes.leftCols(lowest), all.omega_rad_s.head(lowest),
                      remainders(rest, forces, mass, Inertia::left_out));
}

}  // namespace seamwright::loads
