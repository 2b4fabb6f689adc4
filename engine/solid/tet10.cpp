// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/solid/tet10.h"

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>

namespace seamwright::solid {

namespace {

using Barycentric = Eigen::Vector4d;
using Gradients = Eigen::Matrix<double, 10, 4>;  // of the ten functions by the four coordinates

Gradients gradients_at(const Barycentric& l) {
  Gradients g = Gradients::Zero();
  for (int i = 0; i < 4; ++i) g(i, i) = 4 * l[i] - 1;
  for (std::size_t e = 0; e < tet_edges.size(); ++e) {
    const auto [a, b] = tet_edges[e];
    g(static_cast<int>(e) + 4, a) = 4 * l[b];
    g(static_cast<int>(e) + 4, b) = 4 * l[a];
  }
  return g;
}

// The coordinates 1 to 3 alone count; the fourth (of corner 0) follows from them.
Eigen::Matrix<double, 10, 3> natural_gradients(const Barycentric& l) {
  const Gradients g = gradients_at(l);
  return g.rightCols<3>().colwise() - g.col(0);
}

struct Point {
  Eigen::Matrix<double, 10, 3> by_place;  // gradients by x, y, z
  double jacobian;
};

Point point_at(const Corners& places, const Barycentric& l) {
  const Eigen::Matrix<double, 10, 3> natural = natural_gradients(l);
  const Eigen::Matrix3d j = places * natural;
  return {natural * j.inverse(), j.determinant()};
}

const double inner = (5 + 3 * std::sqrt(5.0)) / 20, outer = (5 - std::sqrt(5.0)) / 20;

Barycentric gauss_point(int i) {
  Barycentric l = Barycentric::Constant(outer);
  l[i] = inner;
  return l;
}

Eigen::Matrix<double, 6, 30> strain_map(const Eigen::Matrix<double, 10, 3>& g) {
  Eigen::Matrix<double, 6, 30> b = Eigen::Matrix<double, 6, 30>::Zero();
  for (int n = 0; n < 10; ++n) {
    const double x = g(n, 0), y = g(n, 1), z = g(n, 2);
    const int c = 3 * n;
    b(0, c) = b(3, c + 1) = b(5, c + 2) = x;
    b(1, c + 1) = b(3, c) = b(4, c + 2) = y;
    b(2, c + 2) = b(4, c + 1) = b(5, c) = z;
  }
  return b;
}

Eigen::Matrix<double, 6, 6> law(const Elastic& steel) {
  const double e = steel.youngs_mpa, nu = steel.poisson, shear = e / (2 * (1 + nu)),
               lame = e * nu / ((1 + nu) * (1 - 2 * nu));
  Eigen::Matrix<double, 6, 6> d = Eigen::Matrix<double, 6, 6>::Zero();
  d.topLeftCorner<3, 3>().setConstant(lame);
  d.diagonal().head<3>().array() += 2 * shear;
  d.diagonal().tail<3>().setConstant(shear);
  return d;
}

}  // namespace

Corners corners_of(const TetMesh& mesh, const Tet& tet) {
  Corners places;
  for (std::size_t i = 0; i < 10; ++i) places.col(static_cast<int>(i)) = mesh.nodes.col(tet[i]);
  return places;
}

double least_jacobian(const Corners& places) {
  double least = (places * natural_gradients(gauss_point(0))).determinant();
  for (int i = 0; i < 4; ++i) {
    least = std::min(least, (places * natural_gradients(gauss_point(i))).determinant());
    least = std::min(least, (places * natural_gradients(Barycentric::Unit(i))).determinant());
  }
  return least;
}

TetMatrices tet_matrices(const Corners& places, const Elastic& steel) {
  TetMatrices m;
  m.stiffness.setZero();
  m.least_jacobian = least_jacobian(places);
  const Eigen::Matrix<double, 6, 6> d = law(steel);
  for (int i = 0; i < 4; ++i) {
    const Point p = point_at(places, gauss_point(i));
    const Eigen::Matrix<double, 6, 30> b = strain_map(p.by_place);
    const double weight = p.jacobian / 24;
    m.stiffness.noalias() += b.transpose() * (weight * d * b);
    m.volume_mm3 += weight;
  }
  return m;
}

Eigen::Matrix<double, 60, 30> nodal_stress_map(const Corners& places, const Elastic& steel) {
  Eigen::Matrix<double, 24, 30> at_gauss;
  const Eigen::Matrix<double, 6, 6> d = law(steel);
  for (int i = 0; i < 4; ++i) at_gauss.middleRows<6>(6 * i) = d * strain_map(point_at(places, gauss_point(i)).by_place);
  // A linear function with these values at the Gauss points: at a corner (value there - outer * sum) / (inner - outer).
  Eigen::Matrix<double, 60, 30> map;
  const Eigen::Matrix<double, 6, 30> sum =
      at_gauss.middleRows<6>(0) + at_gauss.middleRows<6>(6) + at_gauss.middleRows<6>(12) + at_gauss.middleRows<6>(18);
  for (int i = 0; i < 4; ++i) map.middleRows<6>(6 * i) = (at_gauss.middleRows<6>(6 * i) - outer * sum) / (inner - outer);
  for (std::size_t e = 0; e < tet_edges.size(); ++e)
    map.middleRows<6>(24 + 6 * static_cast<int>(e)) =
        (map.middleRows<6>(6 * tet_edges[e].first) + map.middleRows<6>(6 * tet_edges[e].second)) / 2;
  return map;
}

}  // namespace seamwright::solid
