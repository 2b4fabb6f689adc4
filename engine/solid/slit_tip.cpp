// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/solid/slit_tip.h"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

namespace seamwright::solid {

namespace {

// Ways of an element's ten nodes: corners on the front go, middles half as far as their corners together.
Corners ways_of(const Tet& tet, const std::vector<int>& number, const FrontStep& step) {
  Corners ways = Corners::Zero();
  for (int i = 0; i < 4; ++i)
    if (const int n = number[static_cast<std::size_t>(tet[static_cast<std::size_t>(i)])]; n >= 0) ways.col(i) = step.ways[static_cast<std::size_t>(n)];
  for (std::size_t e = 0; e < tet_edges.size(); ++e)
    ways.col(static_cast<int>(e) + 4) = (ways.col(tet_edges[e].first) + ways.col(tet_edges[e].second)) / 2;
  return ways;
}

// Corner nodes of the front in the order of their angles.
std::vector<std::pair<double, int>> front_of(const SeamBody& seam) {
  const TetMesh& mesh = seam.body.mesh;
  std::vector<char> touched(static_cast<std::size_t>(mesh.nodes.cols()), 0);
  for (std::size_t t = 0; t < mesh.tets.size(); ++t) {
    const int mark = seam.metal[t] ? 4 : (seam.on_brace[t] ? 1 : 0) | (seam.on_chord[t] ? 2 : 0);
    if (mark == 0) continue;
    for (std::size_t i = 0; i < 4; ++i) {
      char& c = touched[static_cast<std::size_t>(mesh.tets[t][i])];
      c = static_cast<char>(c | mark);
    }
  }
  std::vector<std::pair<double, int>> front;
  for (std::size_t n = 0; n < touched.size(); ++n)
    if (touched[n] == 7) {
      const auto at = static_cast<int>(n);
      front.emplace_back(seam.path.sections()[seam.path.nearest(mesh.nodes.col(at))].angle_rad, at);
    }
  std::sort(front.begin(), front.end());
  return front;
}

// The front within the hat about an angle, pushed on along the chord's surface.
FrontStep step_at(const SeamBody& seam, const std::vector<std::pair<double, int>>& front, double angle_rad) {
  const TetMesh& mesh = seam.body.mesh;
  const double hat = hat_of(seam);
  FrontStep step;
  const auto weight = [&](std::size_t i) {
    return std::max(0.0, 1 - std::abs(std::remainder(front[i].first - angle_rad, 2 * std::numbers::pi)) / hat);
  };
  for (std::size_t i = 0; i < front.size(); ++i) {
    const std::size_t next = (i + 1) % front.size();
    const double length = (mesh.nodes.col(front[next].second) - mesh.nodes.col(front[i].second)).norm();
    if (length > 3 * seam.size_mm) continue;  // a neighbour stands between the two: no front
    step.opened_mm2 += (weight(i) + weight(next)) / 2 * length;
  }
  for (std::size_t i = 0; i < front.size(); ++i) {
    if (weight(i) <= 0) continue;
    step.nodes.push_back(front[i].second);
    step.ways.push_back(weight(i) * seam.path.section_at(front[i].first).slit_way);
  }
  return step;
}

// The two largest parts of a square form over loads: rows whose squares add to most of it.
std::pair<Eigen::RowVectorXd, Eigen::RowVectorXd> parts_of(const Eigen::MatrixXd& form, const Eigen::VectorXd& usual) {
  // Loads at the seats have no usual size: they count by the mean of the others, so that their columns are not lost.
  Eigen::VectorXd scale = usual;
  for (Eigen::Index c = 0; c < scale.size(); ++c)
    if (!(scale[c] > 0)) scale[c] = usual[c % 6];
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> parts(scale.asDiagonal() * form * scale.asDiagonal());
  const Eigen::Index n = form.rows();
  const auto row = [&](Eigen::Index k) -> Eigen::RowVectorXd {
    if (k < 0) return Eigen::RowVectorXd::Zero(n);
    return std::sqrt(std::max(0.0, parts.eigenvalues()[k])) * parts.eigenvectors().col(k).cwiseQuotient(scale).transpose();
  };
  return {row(n - 1), row(n - 2)};
}

}  // namespace

Eigen::MatrixXd energy_set_free(const SupportedBody& body, const Eigen::MatrixXd& moved, const FrontStep& step) {
  const TetMesh& mesh = body.mesh;
  std::vector<int> number(static_cast<std::size_t>(mesh.nodes.cols()), -1);
  for (std::size_t i = 0; i < step.nodes.size(); ++i) number[static_cast<std::size_t>(step.nodes[i])] = static_cast<int>(i);
  Eigen::MatrixXd form = Eigen::MatrixXd::Zero(moved.cols(), moved.cols()), own(30, moved.cols());
  constexpr double little = 1e-4;  // of the way: the difference is exact to its square
  for (const Tet& tet : mesh.tets) {
    if (std::none_of(tet.begin(), tet.begin() + 4, [&](int n) { return number[static_cast<std::size_t>(n)] >= 0; })) continue;
    const Corners places = corners_of(mesh, tet), ways = ways_of(tet, number, step);
    const Eigen::Matrix<double, 30, 30> change =
        (tet_matrices(places + little * ways, body.steel).stiffness - tet_matrices(places - little * ways, body.steel).stiffness) / (2 * little);
    for (int i = 0; i < 10; ++i) own.middleRows<3>(3 * i) = moved.middleRows<3>(3 * tet[static_cast<std::size_t>(i)]);
    form.noalias() -= own.transpose() * (change * own) / 2;
  }
  return (form + form.transpose()) / (2 * step.opened_mm2);
}

std::vector<SlitTip> slit_tips_around(const SeamBody& seam, const Eigen::VectorXd& usual, int places) {
  const auto front = front_of(seam);
  if (front.empty()) return {};
  const Elastic& steel = seam.body.steel;
  const double stiff = std::sqrt(steel.youngs_mpa / (1 - steel.poisson * steel.poisson));
  std::vector<SlitTip> out;
  for (int k = 0; k < places; ++k) {
    const FrontStep step = step_at(seam, front, 2 * std::numbers::pi * k / places);
    if (!(step.opened_mm2 > 0)) {
      const Eigen::RowVectorXd none = Eigen::RowVectorXd::Zero(seam.answers.moved.cols());
      out.push_back({none, none});
      continue;
    }
    const auto [first, second] = parts_of(energy_set_free(seam.body, seam.answers.moved, step), usual);
    out.push_back({stiff * first, stiff * second});
  }
  return out;
}

}  // namespace seamwright::solid
