// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/basis.h"

#include <Eigen/Eigenvalues>
#include <numbers>

#include "engine/frame/statics.h"

namespace seamwright::loads {
namespace {

/// Motions without inertia are given this frequency: far above every road's, so that it follows at once.
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

Shapes remainders(const Eigen::MatrixXd& whole, const Eigen::MatrixXd& kept, const Eigen::MatrixXd& forces,
                  const frame::SparseMatrix& mass, Inertia inertia) {
  // Rounding of the whole answer is no remainder, nor a direction that others give already.
  constexpr double noise = 1e-9, same = 1e-9;
  const Eigen::MatrixXd rest = whole - kept * ((mass * kept).transpose() * whole);
  const Eigen::MatrixXd product = forces.transpose() * rest;
  const Eigen::ArrayXd own = product.diagonal(), all = forces.cwiseProduct(whole).colwise().sum().transpose();
  const Eigen::VectorXd scale = (own > noise * all).select(own.max(0).rsqrt(), 0.0);
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
  // Each has unit strain energy: their mass is one over the square of the frequency.
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
  // Motions that hardly anything holds would swing far in the static answer: there the inertia of all masses
  // balances what drives them.
  constexpr double soft_hz = 1;
  const Eigen::MatrixXd soft = kept.leftCols(1 + (modes.frequency_hz.array() < soft_hz).count()),
                        inertia = assembly.mass * soft;
  Eigen::MatrixXd whole =
      frame::Statics(assembly).solve(forces - inertia * (soft.transpose() * forces)).displacements;
  whole -= soft * (inertia.transpose() * whole);
  return side_by_side(modes.shapes, 2 * std::numbers::pi * modes.frequency_hz,
                      remainders(whole, kept, forces, assembly.mass, Inertia::counted));
}

Shapes lowest_and_static(const Shapes& all, Eigen::Index lowest, const Eigen::MatrixXd& forces,
                         const frame::SparseMatrix& mass) {
  const Eigen::Index others = all.omega_rad_s.size() - lowest;
  const Eigen::MatrixXd shapes = all.shapes.rightCols(others);
  const Eigen::VectorXd soft = all.omega_rad_s.tail(others).array().square().inverse();
  const Eigen::MatrixXd rest = shapes * (soft.asDiagonal() * (shapes.transpose() * forces));
  const Eigen::MatrixXd none(rest.rows(), 0);
  return side_by_side(all.shapes.leftCols(lowest), all.omega_rad_s.head(lowest),
                      remainders(rest, none, forces, mass, Inertia::left_out));
}

}  // namespace seamwright::loads
