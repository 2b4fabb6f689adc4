// SPDX-License-Identifier: GPL-3.0-or-later
// Statics: one factorisation, many right-hand sides, and the residual of equilibrium with every answer.
#pragma once

#include <Eigen/SparseCholesky>
#include <memory>

#include "engine/frame/assembly.h"

namespace seamwright::frame {

struct Solution {
  Eigen::MatrixXd displacements;  ///< full x cases: mm, rad
  /// full x cases: forces of supports (Footing::supports) or of the held x direction (Footing::tyres)
  Eigen::MatrixXd reactions;
  Eigen::VectorXd
      residual;  ///< per case: |K u - f - r| / |f| over all independent motions, largest entry, moments
                 ///< divided by the frame's extent; dimensionless; 0 for a case without load
};

class Statics {
 public:
  /// Factors. On tyres, ux of the first wheel's node is held, since nothing else holds x. Throws Fault
  /// "frame.mechanism" naming the node and direction that move freely and the members there, or
  /// "frame.unlinked-hinge" when the free motion is the rotation of a steering hinge that no link holds. A
  /// motion counts as free when its stiffness is below 1e-13 of the diagonal's.
  explicit Statics(const Assembly& assembly);  // copies what it needs
  ~Statics();
  Statics(Statics&&) noexcept;
  Statics& operator=(Statics&&) noexcept;

  /// loads: full x cases (N, N mm). One step of refinement where the residual exceeds 1e-12. Throws Fault
  /// "frame.bad-loads" for a wrong size, NaN or infinity, and "frame.ill-conditioned" when a residual stays
  /// above 1e-6.
  Solution solve(const Eigen::MatrixXd& loads) const;

 private:
  struct Data;
  std::unique_ptr<Data> data_;
};

}  // namespace seamwright::frame
