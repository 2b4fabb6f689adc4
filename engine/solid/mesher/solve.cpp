// SPDX-License-Identifier: GPL-3.0-or-later
#include <Eigen/CholmodSupport>
#include <stdexcept>

#include "engine/solid/mesher/mesher.h"

namespace seamwright::solid::mesher {

Eigen::MatrixXd solve(const Eigen::SparseMatrix<double>& lower, const Eigen::MatrixXd& loads) {
  Eigen::CholmodSupernodalLLT<Eigen::SparseMatrix<double>, Eigen::Lower> factor;
  factor.cholmod().nmethods = 1;
  factor.cholmod().method[0].ordering = CHOLMOD_METIS;
  factor.cholmod().postorder = 1;
  factor.cholmod().print = 0;
  factor.compute(lower);
  if (factor.info() != Eigen::Success) throw std::runtime_error("something of the joint hangs free, or memory is short");
  return factor.solve(loads);
}

}  // namespace seamwright::solid::mesher
