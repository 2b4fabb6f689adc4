// SPDX-License-Identifier: GPL-3.0-or-later
// Straight weld lines that carry a load together: the elastic method of weld groups.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "engine/evidence/evidence.h"

namespace seamwright::joints {

struct WeldLine {
  Eigen::Vector3d from_mm, to_mm;
};

/// Force per length at `at` (N/mm, global axes) as a linear map, 3 x 6, of force and moment about the lines'
/// centroid (N, N mm): F / L + (J^-1 M) x r, with J the lines' second polar moments about their centroid. The
/// joined parts are taken as rigid. Source: elastic method of weld groups (Blodgett, Design of Welded
/// Structures, "Determining weld size"; common practice). Throws Fault "joints.weld-line" for no length, and
/// for lines in one line.
Eigen::Matrix<double, 3, 6> line_force_map(const std::vector<WeldLine>& lines, const Eigen::Vector3d& at_mm);
/// Centroid of the lines, mm.
Eigen::Vector3d centroid_of(const std::vector<WeldLine>& lines);

}  // namespace seamwright::joints
