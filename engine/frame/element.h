// SPDX-License-Identifier: GPL-3.0-or-later
// Matrices of one beam element in its local axes. Order: u v w rx ry rz at the first end, then at the second.
#pragma once

#include <Eigen/Core>
#include <optional>

#include "engine/frame/section.h"

namespace seamwright::frame {

/// One element is made of these: N, mm, tonne, MPa.
struct ElementData {
  SectionProperties section;
  double youngs_mpa = 0, poisson = 0;
  double density_t_mm3 = 0;
  double length_mm = 0;
  bool axial_only = false;  ///< stiffness EA/L alone, mass of the translations alone
};

/// Timoshenko stiffness with the shear parameter Phi = 12 E I / (G As L^2); Przemieniecki (1968),
/// section 5.6. It is exact for loads at the nodes. N/mm, N, N mm.
Eigen::Matrix<double, 12, 12> element_stiffness(const ElementData& data);

/// Consistent mass of the same displacement field with rotary inertia (Przemieniecki 1968, section 11.5);
/// torsion with the polar inertia density * (Iy + Iz). Tonne, tonne mm, tonne mm2.
Eigen::Matrix<double, 12, 12> element_mass(const ElementData& data);

/// Rows: unit local x (along), y (towards up), z. Without up: global z, or global x within 1 degree of
/// upright. along must not be zero. nullopt when up is within 1e-6 rad of the axis.
std::optional<Eigen::Matrix3d> local_axes(const Eigen::Vector3d& along,
                                          const std::optional<Eigen::Vector3d>& up);

/// Turns global node displacements into local displacements of ends that sit at rigid arms from their nodes
/// (mm): u_end = u + theta x arm.
Eigen::Matrix<double, 12, 12> to_local_ends(const Eigen::Matrix3d& axes, const Eigen::Vector3d& first_arm_mm,
                                            const Eigen::Vector3d& second_arm_mm);

/// Matrix of v -> a x v.
Eigen::Matrix3d cross_matrix(const Eigen::Vector3d& a);

}  // namespace seamwright::frame
