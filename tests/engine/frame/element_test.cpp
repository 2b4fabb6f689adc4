// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/frame/element.h"

#include <Eigen/Dense>
#include <array>
#include <cmath>

#include "tests/engine/frame/small_frames.h"

using namespace seamwright;
using namespace seamwright::frame;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

ElementData oval(double length) {
  ElementData d;
  d.section = section_properties(FlatOvalTube{40, 25, 1.5}, 0.3).properties;
  d.youngs_mpa = 205000;
  d.poisson = 0.3;
  d.density_t_mm3 = 7.85e-9;
  d.length_mm = length;
  return d;
}

/// Displacement and rotation of a Timoshenko beam's axis in one plane for unit end motions v1, r1, v2, r2.
struct Shape {
  Eigen::Vector4d v, r;
};
Shape shape_at(double s, double length, double phi) {
  const double l = length, q = 1 + phi, s2 = s * s, s3 = s2 * s;
  Shape n;
  n.v << (1 - 3 * s2 + 2 * s3 + phi * (1 - s)) / q, l * (s - 2 * s2 + s3 + phi * (s - s2) / 2) / q,
      (3 * s2 - 2 * s3 + phi * s) / q, l * (-s2 + s3 - phi * (s - s2) / 2) / q;
  n.r << 6 * (s2 - s) / (l * q), (1 - 4 * s + 3 * s2 + phi * (1 - s)) / q, -6 * (s2 - s) / (l * q),
      (-2 * s + 3 * s2 + phi * s) / q;
  return n;
}

}  // namespace

TEST_CASE("element stiffness is symmetric with six rigid motions and no more") {
  for (const double length : {20.0, 300.0, 4000.0}) {
    const Matrix12 k = element_stiffness(oval(length));
    CHECK((k - k.transpose()).cwiseAbs().maxCoeff() == 0);
    // Rotations in units of the length make all terms comparable.
    Vector12 scale = Vector12::Ones();
    scale.segment<3>(3).setConstant(1 / length);
    scale.segment<3>(9).setConstant(1 / length);
    const Matrix12 even = scale.asDiagonal() * k * scale.asDiagonal();
    const Vector12 values = Eigen::SelfAdjointEigenSolver<Matrix12>(even).eigenvalues();
    for (int i = 0; i < 6; ++i) CHECK(std::abs(values[i]) < 1e-10 * values[11]);
    CHECK(values[6] > 1e-8 * values[11]);
  }
}

TEST_CASE("element mass is the integral over its displacement field") {
  const ElementData d = oval(80);
  const double phi_z = 12 * 2.6 * d.section.i_z_mm4 / (d.section.shear_area_y_mm2 * 80 * 80);
  const double phi_y = 12 * 2.6 * d.section.i_y_mm4 / (d.section.shear_area_z_mm2 * 80 * 80);
  Eigen::Matrix4d in_y = Eigen::Matrix4d::Zero(), in_z = Eigen::Matrix4d::Zero();
  const int n = 4000;
  for (int i = 0; i < n; ++i) {
    const double w = d.density_t_mm3 * 80 / n;
    const Shape y = shape_at((i + 0.5) / n, 80, phi_z), z = shape_at((i + 0.5) / n, 80, phi_y);
    in_y += w * (d.section.area_mm2 * y.v * y.v.transpose() + d.section.i_z_mm4 * y.r * y.r.transpose());
    in_z += w * (d.section.area_mm2 * z.v * z.v.transpose() + d.section.i_y_mm4 * z.r * z.r.transpose());
  }
  const Matrix12 m = element_mass(d);
  const std::array<int, 4> y_dofs{1, 5, 7, 11}, z_dofs{2, 4, 8, 10};
  const std::array<double, 4> sign{1, -1, 1, -1};
  for (int i = 0; i < 4; ++i)
    for (int j = 0; j < 4; ++j) {
      const auto a = static_cast<std::size_t>(i), b = static_cast<std::size_t>(j);
      CHECK_THAT(m(y_dofs[a], y_dofs[b]), WithinRel(in_y(i, j), 1e-5));
      CHECK_THAT(m(z_dofs[a], z_dofs[b]), WithinRel(sign[a] * sign[b] * in_z(i, j), 1e-5));
    }
  CHECK_THAT(m(3, 3) + 2 * m(3, 9) + m(9, 9),
             WithinRel(d.density_t_mm3 * 80 * (d.section.i_y_mm4 + d.section.i_z_mm4), 1e-12));
}

TEST_CASE("rigid motion of an element has its weight and inertia as kinetic energy") {
  const ElementData d = oval(500);
  const Matrix12 m = element_mass(d);
  const double mass = d.density_t_mm3 * d.section.area_mm2 * 500;
  Vector12 turn = Vector12::Zero();  // about z through the first end: v = x, rz = 1
  turn[5] = turn[11] = 1;
  turn[7] = 500;
  CHECK_THAT(turn.dot(m * turn),
             WithinRel(mass * 500 * 500 / 3 + d.density_t_mm3 * d.section.i_z_mm4 * 500, 1e-12));
  for (int i = 0; i < 3; ++i) {
    Vector12 shift = Vector12::Zero();
    shift[i] = shift[6 + i] = 1;
    CHECK_THAT(shift.dot(m * shift), WithinRel(mass, 1e-12));
  }
}

TEST_CASE("an axial-only element has one stiffness and three masses") {
  ElementData d = oval(500);
  d.axial_only = true;
  const Matrix12 k = element_stiffness(d), m = element_mass(d);
  CHECK_THAT(k(0, 0), WithinRel(205000 * d.section.area_mm2 / 500, 1e-12));
  CHECK(k.cwiseAbs().sum() == Approx(4 * k(0, 0)).epsilon(1e-12));
  CHECK(m.block(3, 3, 3, 3).cwiseAbs().maxCoeff() == 0);
  CHECK_THAT(m(1, 1), WithinRel(m(0, 0), 1e-12));
}

TEST_CASE("local axes") {
  const Vec3 ex = Vec3::UnitX(), ey = Vec3::UnitY(), ez = Vec3::UnitZ();
  const auto lying = local_axes(ex, std::nullopt);
  REQUIRE(lying);
  CHECK((lying->row(1).transpose() - ez).norm() < 1e-14);
  CHECK((lying->row(2).transpose() + ey).norm() < 1e-14);
  const auto upright = local_axes(ez, std::nullopt);
  REQUIRE(upright);
  CHECK((upright->row(1).transpose() - ex).norm() < 1e-14);
  // Half a degree off upright still takes x, two degrees take z.
  const auto nearly = local_axes(Vec3(0, std::sin(0.0087), std::cos(0.0087)), std::nullopt);
  const auto leaning = local_axes(Vec3(0, std::sin(0.0349), std::cos(0.0349)), std::nullopt);
  REQUIRE((nearly && leaning));
  CHECK_THAT((*nearly)(1, 0), WithinAbs(1, 1e-12));
  CHECK_THAT((*leaning)(1, 1), WithinAbs(-1, 1e-3));
  const auto turned = local_axes(ex, Vec3(3, 1, 0));
  REQUIRE(turned);
  CHECK((turned->row(1).transpose() - ey).norm() < 1e-14);
  CHECK_THAT(turned->determinant(), WithinRel(1.0, 1e-14));
  CHECK_FALSE(local_axes(ex, Vec3(-2, 0, 0)));
}

TEST_CASE("ends on rigid arms move with their nodes") {
  const Vec3 arm(10, -20, 30), theta(1e-3, 2e-3, -3e-3);
  const auto axes = local_axes(Vec3(1, 2, 3), std::nullopt);
  REQUIRE(axes);
  const auto t = to_local_ends(*axes, arm, Vec3::Zero());
  Vector12 u = Vector12::Zero();
  u.segment<3>(3) = theta;
  CHECK(((t * u).head<3>() - *axes * theta.cross(arm)).norm() < 1e-15);
  CHECK(((t * u).segment<3>(3) - *axes * theta).norm() < 1e-15);
}
