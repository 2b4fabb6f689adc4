// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/frame/statics.h"

#include <cmath>
#include <utility>

#include "engine/frame/bodies.h"
#include "engine/frame/mechanism.h"

namespace seamwright::frame {

struct Statics::Data {
  SparseMatrix basis;  ///< full x unknowns
  SparseMatrix held;   ///< full x held directions
  std::vector<Eigen::Index> held_dofs;
  SparseMatrix stiffness;  ///< full
  SparseMatrix reduced;
  Eigen::VectorXd moment_scale;  ///< per unknown: 1 for forces, 1 / extent for moments
  Eigen::VectorXd unit_scale;
  Eigen::SimplicialLDLT<SparseMatrix> factor;  ///< of the reduced stiffness scaled to a unit diagonal

  Eigen::MatrixXd solved(const Eigen::MatrixXd& right) const {
    return unit_scale.asDiagonal() * factor.solve(unit_scale.asDiagonal() * right);
  }
  Eigen::VectorXd residual_of(const Eigen::MatrixXd& off, const Eigen::MatrixXd& right) const;
};

namespace {

/// The reduced column that moves the full degree of freedom with factor 1; the node's first-of-chain
/// translation.
Eigen::Index column_of(const SparseMatrix& expand, Eigen::Index dof) {
  for (Eigen::Index k = 0; k < expand.outerSize(); ++k)
    for (SparseMatrix::InnerIterator it(expand, k); it; ++it)
      if (it.row() == dof) return k;
  return -1;
}

/// Columns of a matrix without one of them.
SparseMatrix without_column(const SparseMatrix& m, Eigen::Index column) {
  Triplets keep;
  for (Eigen::Index k = 0; k < m.outerSize(); ++k)
    for (SparseMatrix::InnerIterator it(m, k); it; ++it)
      if (k != column) keep.emplace_back(it.row(), k < column ? k : k - 1, it.value());
  SparseMatrix result(m.rows(), m.cols() - 1);
  result.setFromTriplets(keep.begin(), keep.end());
  return result;
}

/// 1 for translations, 1 / extent for rotations. Every column moves at least one full degree of freedom with
/// factor 1 of its own kind, but for a hinge's rotation, which moves rotations alone.
Eigen::VectorXd moment_scales(const SparseMatrix& basis, std::size_t nodes, double extent) {
  Eigen::VectorXd scale = Eigen::VectorXd::Ones(basis.cols());
  for (Eigen::Index k = 0; k < basis.outerSize(); ++k) {
    bool turns_only = true;
    for (SparseMatrix::InnerIterator it(basis, k); it; ++it)
      if (it.row() >= 6 * static_cast<Eigen::Index>(nodes) || it.row() % 6 < 3) turns_only = false;
    if (turns_only && extent > 0) scale[k] = 1 / extent;
  }
  return scale;
}

/// True when the pivots leave room for a motion without stiffness (the diagonal is 1).
bool is_suspicious(const Eigen::SimplicialLDLT<SparseMatrix>& factor) {
  return factor.info() != Eigen::Success || !(factor.vectorD().minCoeff() > 1e-9);
}

}  // namespace

Eigen::VectorXd Statics::Data::residual_of(const Eigen::MatrixXd& off, const Eigen::MatrixXd& right) const {
  Eigen::VectorXd residual(right.cols());
  for (Eigen::Index c = 0; c < right.cols(); ++c) {
    const double load = right.col(c).cwiseProduct(moment_scale).cwiseAbs().maxCoeff();
    const double error = off.col(c).cwiseProduct(moment_scale).cwiseAbs().maxCoeff();
    residual[c] = load > 0 ? error / load : error;
  }
  return residual;
}

Statics::Statics(const Assembly& assembly) : data_(std::make_unique<Data>()) {
  Data& d = *data_;
  d.basis = assembly.expand;
  d.held = assembly.held;
  d.held_dofs = assembly.held_dofs;
  d.stiffness = assembly.stiffness;
  std::vector<Eigen::Index> hinge_columns;
  for (const HingeColumn& h : assembly.hinges) hinge_columns.push_back(h.column);
  if (assembly.on == Footing::tyres) {
    const Eigen::Index dof = 6 * static_cast<Eigen::Index>(assembly.wheel_nodes.front());
    const Eigen::Index column = column_of(d.basis, dof);
    d.held = d.basis.col(column);
    d.held_dofs = {dof};
    d.basis = without_column(d.basis, column);
    for (Eigen::Index& c : hinge_columns)
      if (c > column) --c;
  }
  if (d.basis.cols() == 0) throw Fault{Message{"frame.all-held", {}}};
  d.reduced = d.basis.transpose() * d.stiffness * d.basis;
  d.moment_scale = moment_scales(d.basis, assembly.node_ids.size(), assembly.extent_mm);
  d.unit_scale = unit_scaling(d.reduced);
  d.factor.compute(d.unit_scale.asDiagonal() * d.reduced * d.unit_scale.asDiagonal());
  if (is_suspicious(d.factor)) {
    refuse_mechanism(assembly, d.basis, d.reduced, hinge_columns);
    if (d.factor.info() != Eigen::Success)
      throw Fault{Message{"frame.ill-conditioned", {number("residual", 1, "")}}};
  }
}

Statics::~Statics() = default;
Statics::Statics(Statics&&) noexcept = default;
Statics& Statics::operator=(Statics&&) noexcept = default;

Solution Statics::solve(const Eigen::MatrixXd& loads) const {
  const Data& d = *data_;
  if (loads.rows() != d.basis.rows() || !loads.allFinite())
    throw Fault{Message{"frame.bad-loads",
                        {number("rows", static_cast<double>(loads.rows()), ""),
                         number("expected", static_cast<double>(d.basis.rows()), "")}}};
  const Eigen::MatrixXd right = d.basis.transpose() * loads;
  Eigen::MatrixXd x = d.solved(right);
  Eigen::MatrixXd off = right - d.reduced * x;
  Solution s;
  s.residual = d.residual_of(off, right);
  if (s.residual.size() > 0 && s.residual.maxCoeff() > 1e-12) {
    x += d.solved(off);
    off = right - d.reduced * x;
    s.residual = d.residual_of(off, right);
  }
  if (s.residual.size() > 0 && !(s.residual.maxCoeff() <= 1e-6))
    throw Fault{Message{"frame.ill-conditioned", {number("residual", s.residual.maxCoeff(), "")}}};
  s.displacements = d.basis * x;
  s.reactions = Eigen::MatrixXd::Zero(loads.rows(), loads.cols());
  const Eigen::MatrixXd reaction = d.held.transpose() * (d.stiffness * s.displacements - loads);
  for (std::size_t i = 0; i < d.held_dofs.size(); ++i)
    s.reactions.row(d.held_dofs[i]) = reaction.row(static_cast<Eigen::Index>(i));
  return s;
}

}  // namespace seamwright::frame
