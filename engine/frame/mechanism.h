// SPDX-License-Identifier: GPL-3.0-or-later
// Motions that nothing resists: finding them in a stiffness matrix and naming them.
#pragma once

#include "engine/frame/assembly.h"

namespace seamwright::frame {

/// Null space of a symmetric positive semi-definite matrix scaled to unit diagonal, by inverse subspace
/// iteration: columns with a Rayleigh quotient below 1e-13, at most eight. No columns when there are none.
Eigen::MatrixXd free_motions(const SparseMatrix& unit_diagonal);

/// Throws Fault "frame.unlinked-hinge" when every one of the free motions (full x motions) turns a hinge
/// (phi: hinges x motions, rad), else "frame.mechanism" with the node that moves most, its direction and the
/// members there.
[[noreturn]] void throw_mechanism(const Assembly& assembly, const Eigen::MatrixXd& motions,
                                  const Eigen::MatrixXd& phi);

/// K = S A S with unit diagonal; entries of S for rows without stiffness are 1.
Eigen::VectorXd unit_scaling(const SparseMatrix& matrix);

/// Looks for free motions of basis' * K * basis and throws as throw_mechanism does when there are some.
/// columns_of_hinge gives each hinge's column of the basis.
void refuse_mechanism(const Assembly& assembly, const SparseMatrix& basis,
                      const SparseMatrix& reduced_stiffness,
                      const std::vector<Eigen::Index>& columns_of_hinge);

}  // namespace seamwright::frame
