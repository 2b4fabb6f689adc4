// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/frame/element.h"

#include <Eigen/Geometry>
#include <array>
#include <cmath>

namespace seamwright::frame {
namespace {

using Matrix4 = Eigen::Matrix4d;
using Matrix12 = Eigen::Matrix<double, 12, 12>;

/// One bending plane's places in the element, and the sign of its rotations (dw/dx = -ry in the x-z plane).
struct Plane {
  std::array<int, 4> dofs;
  double sign;
};
constexpr Plane xy_plane{{1, 5, 7, 11}, 1};
constexpr Plane xz_plane{{2, 4, 8, 10}, -1};

void place(Matrix12& into, const Plane& plane, const Matrix4& block) {
  const std::array<double, 4> sign{1, plane.sign, 1, plane.sign};
  for (std::size_t i = 0; i < 4; ++i)
    for (std::size_t j = 0; j < 4; ++j)
      into(plane.dofs[i], plane.dofs[j]) +=
          sign[i] * sign[j] * block(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j));
}

void place_pair(Matrix12& into, int i, int j, double diagonal, double coupling) {
  into(i, i) += diagonal;
  into(j, j) += diagonal;
  into(i, j) += coupling;
  into(j, i) += coupling;
}

Matrix4 symmetric(double d0, double c01, double c02, double c03, double d1, double c13) {
  Matrix4 m;
  m << d0, c01, c02, c03,   //
      c01, d1, -c03, c13,   //
      c02, -c03, d0, -c01,  //
      c03, c13, -c01, d1;
  return m;
}

Matrix4 bending_stiffness(double ei, double length, double phi) {
  const double c = ei / (std::pow(length, 3) * (1 + phi));
  const double l = length;
  return symmetric(12 * c, 6 * c * l, -12 * c, 6 * c * l, (4 + phi) * c * l * l, (2 - phi) * c * l * l);
}

Matrix4 bending_mass(double mass, double inertia_per_area, double l, double phi) {
  const double f2 = phi * phi;
  const double t = mass / ((1 + phi) * (1 + phi));
  const double r = t * inertia_per_area / (l * l);
  const Matrix4 translation = symmetric(
      t * (13.0 / 35 + 7 * phi / 10 + f2 / 3), t * l * (11.0 / 210 + 11 * phi / 120 + f2 / 24),
      t * (9.0 / 70 + 3 * phi / 10 + f2 / 6), -t * l * (13.0 / 420 + 3 * phi / 40 + f2 / 24),
      t * l * l * (1.0 / 105 + phi / 60 + f2 / 120), -t * l * l * (1.0 / 140 + phi / 60 + f2 / 120));
  const Matrix4 rotation =
      symmetric(r * 6 / 5, r * l * (1.0 / 10 - phi / 2), -r * 6 / 5, r * l * (1.0 / 10 - phi / 2),
                r * l * l * (2.0 / 15 + phi / 6 + f2 / 3), r * l * l * (-1.0 / 30 - phi / 6 + f2 / 6));
  return translation + rotation;
}

struct ShearParameters {
  double xy, xz;
};
ShearParameters shear_parameters(const ElementData& d) {
  const double e_over_g = 2 * (1 + d.poisson), l2 = d.length_mm * d.length_mm;
  return {12 * e_over_g * d.section.i_z_mm4 / (d.section.shear_area_y_mm2 * l2),
          12 * e_over_g * d.section.i_y_mm4 / (d.section.shear_area_z_mm2 * l2)};
}

}  // namespace

Eigen::Matrix<double, 12, 12> element_stiffness(const ElementData& d) {
  Matrix12 k = Matrix12::Zero();
  const double axial = d.youngs_mpa * d.section.area_mm2 / d.length_mm;
  place_pair(k, 0, 6, axial, -axial);
  if (d.axial_only) return k;
  const double torsion = d.youngs_mpa / (2 * (1 + d.poisson)) * d.section.torsion_mm4 / d.length_mm;
  place_pair(k, 3, 9, torsion, -torsion);
  const ShearParameters phi = shear_parameters(d);
  place(k, xy_plane, bending_stiffness(d.youngs_mpa * d.section.i_z_mm4, d.length_mm, phi.xy));
  place(k, xz_plane, bending_stiffness(d.youngs_mpa * d.section.i_y_mm4, d.length_mm, phi.xz));
  return k;
}

Eigen::Matrix<double, 12, 12> element_mass(const ElementData& d) {
  Matrix12 m = Matrix12::Zero();
  const double mass = d.density_t_mm3 * d.section.area_mm2 * d.length_mm;
  place_pair(m, 0, 6, mass / 3, mass / 6);
  if (d.axial_only) {
    place_pair(m, 1, 7, mass / 3, mass / 6);
    place_pair(m, 2, 8, mass / 3, mass / 6);
    return m;
  }
  const double polar = d.density_t_mm3 * (d.section.i_y_mm4 + d.section.i_z_mm4) * d.length_mm;
  place_pair(m, 3, 9, polar / 3, polar / 6);
  const ShearParameters phi = shear_parameters(d);
  const double a = d.section.area_mm2;
  place(m, xy_plane, bending_mass(mass, d.section.i_z_mm4 / a, d.length_mm, phi.xy));
  place(m, xz_plane, bending_mass(mass, d.section.i_y_mm4 / a, d.length_mm, phi.xz));
  return m;
}

std::optional<Eigen::Matrix3d> local_axes(const Eigen::Vector3d& along,
                                          const std::optional<Eigen::Vector3d>& up) {
  constexpr double one_degree = 0.01745;
  const Eigen::Vector3d x = along.normalized();
  Eigen::Vector3d reference = Eigen::Vector3d::UnitZ();
  if (up)
    reference = up->normalized();
  else if (x.cross(reference).norm() < one_degree)
    reference = Eigen::Vector3d::UnitX();
  const Eigen::Vector3d z = x.cross(reference);
  if (!(z.norm() > 1e-6)) return std::nullopt;
  Eigen::Matrix3d axes;
  axes.row(0) = x;
  axes.row(2) = z.normalized();
  axes.row(1) = z.normalized().cross(x);
  return axes;
}

Eigen::Matrix3d cross_matrix(const Eigen::Vector3d& a) {
  Eigen::Matrix3d m;
  m << 0, -a.z(), a.y(),  //
      a.z(), 0, -a.x(),   //
      -a.y(), a.x(), 0;
  return m;
}

Eigen::Matrix<double, 12, 12> to_local_ends(const Eigen::Matrix3d& axes, const Eigen::Vector3d& first_arm_mm,
                                            const Eigen::Vector3d& second_arm_mm) {
  Matrix12 t = Matrix12::Zero();
  for (int end = 0; end < 2; ++end) {
    const Eigen::Vector3d& arm = end == 0 ? first_arm_mm : second_arm_mm;
    t.block<3, 3>(6 * end, 6 * end) = axes;
    t.block<3, 3>(6 * end, 6 * end + 3) = -axes * cross_matrix(arm);
    t.block<3, 3>(6 * end + 3, 6 * end + 3) = axes;
  }
  return t;
}

}  // namespace seamwright::frame
