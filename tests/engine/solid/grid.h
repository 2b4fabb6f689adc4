// SPDX-License-Identifier: GPL-3.0-or-later
// Meshes made by hand for tests: a grid of bricks, each of six tetrahedra of second order, mapped to any shape.
#pragma once

#include <Eigen/Dense>
#include <Eigen/SparseCholesky>
#include <array>
#include <functional>
#include <map>
#include <stdexcept>

#include "engine/solid/supported_body.h"

namespace seamwright::solid {

/// A grid of n bricks over the unit cube, mapped; along the axes in `closed` its last nodes are the first ones.
inline TetMesh grid(std::array<int, 3> n, const std::function<Vec3(const Vec3&)>& place, std::array<bool, 3> closed = {}) {
  TetMesh mesh;
  std::map<std::array<int, 3>, int> number;
  std::vector<Vec3> nodes;
  // Nodes by twice their place in the grid, so that middles have one of their own.
  const auto node = [&](std::array<int, 3> twice) {
    for (std::size_t a = 0; a < 3; ++a)
      if (closed[a]) twice[a] %= 2 * n[a];
    const auto [found, fresh] = number.try_emplace(twice, static_cast<int>(nodes.size()));
    if (fresh) nodes.push_back(place(Vec3(twice[0] / (2.0 * n[0]), twice[1] / (2.0 * n[1]), twice[2] / (2.0 * n[2]))));
    return found->second;
  };
  constexpr std::array<std::array<int, 3>, 6> ways{{{0, 1, 2}, {1, 2, 0}, {2, 0, 1}, {0, 2, 1}, {2, 1, 0}, {1, 0, 2}}};
  for (int i = 0; i < n[0]; ++i)
    for (int j = 0; j < n[1]; ++j)
      for (int k = 0; k < n[2]; ++k)
        for (const auto& way : ways) {
          std::array<std::array<int, 3>, 4> corner{};
          corner[0] = {2 * i, 2 * j, 2 * k};
          for (std::size_t c = 1; c < 4; ++c) {
            corner[c] = corner[c - 1];
            corner[c][static_cast<std::size_t>(way[c - 1])] += 2;
          }
          // Ways of odd order turn the tetrahedron inside out.
          if (&way - ways.data() >= 3) std::swap(corner[1], corner[2]);
          Tet t{};
          for (std::size_t c = 0; c < 4; ++c) t[c] = node(corner[c]);
          for (std::size_t e = 0; e < tet_edges.size(); ++e) {
            std::array<int, 3> middle{};
            for (std::size_t a = 0; a < 3; ++a)
              middle[a] = (corner[static_cast<std::size_t>(tet_edges[e].first)][a] + corner[static_cast<std::size_t>(tet_edges[e].second)][a]) / 2;
            t[e + 4] = node(middle);
          }
          mesh.tets.push_back(t);
          mesh.piece.push_back(0);
        }
  mesh.nodes.resize(3, static_cast<Eigen::Index>(nodes.size()));
  for (std::size_t i = 0; i < nodes.size(); ++i) mesh.nodes.col(static_cast<Eigen::Index>(i)) = nodes[i];
  return mesh;
}

inline std::vector<int> nodes_where(const TetMesh& mesh, const std::function<bool(const Vec3&)>& there) {
  std::vector<int> out;
  for (int n = 0; n < static_cast<int>(mesh.nodes.cols()); ++n)
    if (there(mesh.nodes.col(n))) out.push_back(n);
  return out;
}

/// A small solver for tests.
inline Eigen::MatrixXd solved(const Eigen::SparseMatrix<double>& lower, const Eigen::MatrixXd& loads) {
  Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> factor(lower);
  if (factor.info() != Eigen::Success || !(factor.vectorD().minCoeff() > 0)) throw std::runtime_error("not definite");
  return factor.solve(loads);
}

}  // namespace seamwright::solid
