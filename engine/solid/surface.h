// SPDX-License-Identifier: GPL-3.0-or-later
// Stress on the free surface of a part, from the nodes: averaged over the elements of that part alone.
#pragma once

#include <optional>
#include <vector>

#include "engine/solid/supported_body.h"

namespace seamwright::solid {

class PartSurface {
 public:
  /// of_part: which tetrahedra belong to the part. Only what lies within `reach_mm` of one of the places is prepared.
  PartSurface(const SupportedBody& body, const Eigen::MatrixXd& moved, const std::vector<bool>& of_part,
              const std::vector<Vec3>& places, double reach_mm);
  /// Stress at the surface point nearest to a place: 6 x columns; none where the free surface is further off than `tolerance_mm`.
  std::optional<Eigen::MatrixXd> stress_at(const Vec3& place, double tolerance_mm) const;

 private:
  const TetMesh& mesh_;
  std::vector<std::array<int, 3>> faces_;  ///< corners
  std::vector<int> slot_;                  ///< of each node in stress_, or -1
  std::vector<Eigen::MatrixXd> stress_;    ///< 6 x columns
};

}  // namespace seamwright::solid
