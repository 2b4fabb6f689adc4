// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/solid/mesh_error.h"

#include <Eigen/Dense>
#include <array>
#include <cmath>
#include <utility>

namespace seamwright::solid {

namespace {

using Stresses = Eigen::Matrix<double, 6, Eigen::Dynamic>;  // a column for each column of displacements
using Corner4 = std::array<Stresses, 4>;

Eigen::Matrix<double, 6, 6> compliance(const Elastic& steel) {
  Eigen::Matrix<double, 6, 6> c = Eigen::Matrix<double, 6, 6>::Zero();
  c.topLeftCorner<3, 3>().setConstant(-steel.poisson / steel.youngs_mpa);
  c.diagonal().head<3>().setConstant(1 / steel.youngs_mpa);
  c.diagonal().tail<3>().setConstant(2 * (1 + steel.poisson) / steel.youngs_mpa);
  return c;
}

Corner4 stress_at_corners(const SupportedBody& body, const Tet& tet, const Eigen::MatrixXd& moved) {
  Eigen::MatrixXd own(30, moved.cols());
  for (int i = 0; i < 10; ++i) own.middleRows<3>(3 * i) = moved.middleRows<3>(3 * tet[static_cast<std::size_t>(i)]);
  const Eigen::MatrixXd all = nodal_stress_map(corners_of(body.mesh, tet), body.steel).topRows<24>() * own;
  Corner4 out;
  for (int i = 0; i < 4; ++i) out[static_cast<std::size_t>(i)] = all.middleRows<6>(6 * i);
  return out;
}

// Energy of a field that is linear over a tetrahedron, by its corners: V/20 (sum of products of sums and of each with itself), over all columns.
double energy_of(const Corner4& s, const Eigen::Matrix<double, 6, 6>& compliant, double volume) {
  const Stresses sum = s[0] + s[1] + s[2] + s[3];
  double e = sum.cwiseProduct(compliant * sum).sum();
  for (const Stresses& c : s) e += c.cwiseProduct(compliant * c).sum();
  return volume / 20 * e;
}

}  // namespace

double mesh_error(const SupportedBody& body, const std::vector<bool>& elements, const Eigen::MatrixXd& moved, const Eigen::VectorXd& usual) {
  const TetMesh& mesh = body.mesh;
  const Eigen::MatrixXd weighted = moved * usual.asDiagonal();
  std::vector<Stresses> at_node(static_cast<std::size_t>(mesh.nodes.cols()));
  std::vector<double> around(at_node.size(), 0);
  std::vector<std::pair<std::size_t, Corner4>> own;
  for (std::size_t t = 0; t < mesh.tets.size(); ++t) {
    if (!elements[t]) continue;
    own.emplace_back(t, stress_at_corners(body, mesh.tets[t], weighted));
    for (std::size_t i = 0; i < 4; ++i) {
      const auto n = static_cast<std::size_t>(mesh.tets[t][i]);
      if (at_node[n].cols() == 0) at_node[n] = Stresses::Zero(6, weighted.cols());
      at_node[n] += own.back().second[i];
      around[n] += 1;
    }
  }
  const Eigen::Matrix<double, 6, 6> compliant = compliance(body.steel);
  double missed = 0, whole = 0;
  for (const auto& [t, corners] : own) {
    const double volume = tet_matrices(corners_of(mesh, mesh.tets[t]), body.steel).volume_mm3;
    Corner4 jump;
    for (std::size_t i = 0; i < 4; ++i) {
      const auto n = static_cast<std::size_t>(mesh.tets[t][i]);
      jump[i] = at_node[n] / around[n] - corners[i];
    }
    missed += energy_of(jump, compliant, volume);
    whole += energy_of(corners, compliant, volume);
  }
  return whole > 0 ? std::sqrt(missed / whole) : 0;
}

}  // namespace seamwright::solid
