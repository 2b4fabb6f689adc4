// SPDX-License-Identifier: GPL-3.0-or-later
// A body on our mesh, solved in CalculiX (ccx), a general finite-element program.
#pragma once

#include <array>
#include <vector>

#include "engine/solid/supported_body.h"

namespace seamwright::solid {

/// CalculiX is on this machine; warns where it is not.
bool has_calculix();

struct EndLoad {
  std::size_t end = 0;
  Eigen::Matrix<double, 6, 1> load;  ///< forces and moments at the end's place, N and N mm
};

/// CalculiX prints this for each load, in their order.
struct CalculixAnswer {
  Eigen::MatrixXd moved;      ///< 3 nodes x loads, mm
  Eigen::MatrixXd end_moved;  ///< 3 ends x loads, mm; nought at the ends that are held
  std::vector<std::vector<std::array<Stress, 4>>> stress;  ///< of each load and tetrahedron, at the Gauss points, the first near the first corner
};

/// Ends are rigid; so many of them, from the first on, are held. Throws std::runtime_error where it fails or says less than all.
CalculixAnswer calculix_answer(const SupportedBody& body, std::size_t held, const std::vector<EndLoad>& loads);

/// Largest difference of a stress at a Gauss point between what CalculiX prints for a load and what our elements make of its
/// displacements, over the largest stress.
double stress_apart(const SupportedBody& body, const CalculixAnswer& theirs, std::size_t load);

}  // namespace seamwright::solid
