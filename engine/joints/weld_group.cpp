// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/joints/weld_group.h"

#include <Eigen/Dense>

namespace seamwright::joints {

namespace {

using Eigen::Matrix3d, Eigen::Vector3d;

double length_of(const std::vector<WeldLine>& lines) {
  double length = 0;
  for (const WeldLine& l : lines) length += (l.to_mm - l.from_mm).norm();
  return length;
}

Matrix3d cross_matrix(const Vector3d& v) {
  Matrix3d m;
  m << 0, -v.z(), v.y(), v.z(), 0, -v.x(), -v.y(), v.x(), 0;
  return m;
}

// Integral of (r.r I - r r') along the lines about c.
Matrix3d polar_moments(const std::vector<WeldLine>& lines, const Vector3d& c) {
  Matrix3d second = Matrix3d::Zero();
  for (const WeldLine& l : lines) {
    const Vector3d along = l.to_mm - l.from_mm, middle = 0.5 * (l.from_mm + l.to_mm) - c;
    second += along.norm() * (middle * middle.transpose() + along * along.transpose() / 12);
  }
  return second.trace() * Matrix3d::Identity() - second;
}

}  // namespace

Vector3d centroid_of(const std::vector<WeldLine>& lines) {
  Vector3d sum = Vector3d::Zero();
  for (const WeldLine& l : lines) sum += (l.to_mm - l.from_mm).norm() * 0.5 * (l.from_mm + l.to_mm);
  return sum / length_of(lines);
}

Eigen::Matrix<double, 3, 6> line_force_map(const std::vector<WeldLine>& lines, const Vector3d& at_mm) {
  const double length = length_of(lines);
  if (!(length > 0)) throw Fault{Message{"joints.weld-line", {}}};
  const Vector3d c = centroid_of(lines);
  const Matrix3d j = polar_moments(lines, c);
  const Eigen::SelfAdjointEigenSolver<Matrix3d> axes(j);
  if (!(axes.eigenvalues()[0] > 1e-9 * axes.eigenvalues()[2])) throw Fault{Message{"joints.weld-line", {}}};
  Eigen::Matrix<double, 3, 6> map;
  map.leftCols<3>() = Matrix3d::Identity() / length;
  map.rightCols<3>() = -cross_matrix(at_mm - c) * j.inverse();
  return map;
}

}  // namespace seamwright::joints
