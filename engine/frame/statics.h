// SPDX-License-Identifier: GPL-3.0-or-later
// Statics: one factorisation, many right-hand sides, and the residual of equilibrium with every answer.
#pragma once

#include <Eigen/SparseCholesky>
#include <memory>

#include "engine/frame/assembly.h"

namespace seamwright::frame {

struct Solution {
  Eigen::MatrixXd displacements;  ///< full x cases: mm, rad
  Eigen::MatrixXd reactions;      ///< full x cases: forces of supports (On::supports) or of the held x direction (On::tyres)
  Eigen::VectorXd residual;       ///< per case: |K u - f - r| / |f|, largest norm, dimensionless
};

class Statics {
 public:
  /// Factors. Throws Fault "frame.mechanism" naming the node and direction that move freely and the members there, or
  /// "frame.unlinked-hinge" when the free motion is the rotation of a steering hinge that no link holds.
  explicit Statics(const Assembly& assembly);
  ~Statics();
  Statics(Statics&&) noexcept;
  Statics& operator=(Statics&&) noexcept;

  /// loads: full x cases (N, N mm).
  Solution solve(const Eigen::MatrixXd& loads) const;

 private:
  struct Data;
  std::unique_ptr<Data> data_;
};

}  // namespace seamwright::frame
