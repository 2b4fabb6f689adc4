// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/solid/surface.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <limits>
#include <map>

namespace seamwright::solid {

namespace {

// Barycentric coordinates of the point of a triangle nearest to a place (Ericson, Real-Time Collision Detection, 2005, 5.1.5).
Vec3 nearest_on(const Vec3& p, const Vec3& a, const Vec3& b, const Vec3& c) {
  const Vec3 ab = b - a, ac = c - a, ap = p - a;
  const double d1 = ab.dot(ap), d2 = ac.dot(ap);
  if (d1 <= 0 && d2 <= 0) return {1, 0, 0};
  const Vec3 bp = p - b;
  const double d3 = ab.dot(bp), d4 = ac.dot(bp);
  if (d3 >= 0 && d4 <= d3) return {0, 1, 0};
  const double vc = d1 * d4 - d3 * d2;
  if (vc <= 0 && d1 >= 0 && d3 <= 0) {
    const double v = d1 / (d1 - d3);
    return {1 - v, v, 0};
  }
  const Vec3 cp = p - c;
  const double d5 = ab.dot(cp), d6 = ac.dot(cp);
  if (d6 >= 0 && d5 <= d6) return {0, 0, 1};
  const double vb = d5 * d2 - d1 * d6;
  if (vb <= 0 && d2 >= 0 && d6 <= 0) {
    const double w = d2 / (d2 - d6);
    return {1 - w, 0, w};
  }
  const double va = d3 * d6 - d5 * d4;
  if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) {
    const double w = (d4 - d3) / ((d4 - d3) + (d5 - d6));
    return {0, 1 - w, w};
  }
  const double sum = va + vb + vc;
  return {va / sum, vb / sum, vc / sum};
}

}  // namespace

PartSurface::PartSurface(const SupportedBody& body, const Eigen::MatrixXd& moved, const std::vector<bool>& of_part,
                         const std::vector<Vec3>& places, double reach)
    : mesh_(body.mesh), slot_(static_cast<std::size_t>(body.mesh.nodes.cols()), -1) {
  // Faces of one element alone are free; those of the part near the places are kept.
  std::map<std::array<int, 3>, std::pair<std::array<int, 3>, int>> faces;
  const auto near = [&](const Tet& t) {
    return std::any_of(places.begin(), places.end(), [&](const Vec3& p) { return (mesh_.nodes.col(t[0]) - p).squaredNorm() < reach * reach; });
  };
  std::vector<bool> taken(mesh_.tets.size(), false);
  for (std::size_t t = 0; t < mesh_.tets.size(); ++t) {
    if (!near(mesh_.tets[t])) continue;
    taken[t] = of_part[t];
    for (const auto& f : tet_faces) {
      std::array<int, 3> corners{mesh_.tets[t][static_cast<std::size_t>(f[0])], mesh_.tets[t][static_cast<std::size_t>(f[1])],
                                 mesh_.tets[t][static_cast<std::size_t>(f[2])]};
      std::array<int, 3> key = corners;
      std::sort(key.begin(), key.end());
      auto& entry = faces.try_emplace(key, corners, 0).first->second;
      entry.second += of_part[t] ? 1 : 2;
    }
  }
  for (const auto& [key, face] : faces)
    if (face.second == 1) faces_.push_back(face.first);
  std::vector<int> shared;
  for (std::size_t t = 0; t < mesh_.tets.size(); ++t) {
    if (!taken[t]) continue;
    const Tet& tet = mesh_.tets[t];
    Eigen::MatrixXd own(30, moved.cols());
    for (int i = 0; i < 10; ++i) own.middleRows<3>(3 * i) = moved.middleRows<3>(3 * tet[static_cast<std::size_t>(i)]);
    const Eigen::MatrixXd stress = nodal_stress_map(corners_of(mesh_, tet), body.steel) * own;
    for (int i = 0; i < 4; ++i) {
      int& slot = slot_[static_cast<std::size_t>(tet[static_cast<std::size_t>(i)])];
      if (slot < 0) {
        slot = static_cast<int>(stress_.size());
        stress_.push_back(Eigen::MatrixXd::Zero(6, moved.cols()));
        shared.push_back(0);
      }
      stress_[static_cast<std::size_t>(slot)] += stress.middleRows<6>(6 * i);
      ++shared[static_cast<std::size_t>(slot)];
    }
  }
  for (std::size_t i = 0; i < shared.size(); ++i) stress_[i] /= shared[i];
}

std::optional<Eigen::MatrixXd> PartSurface::stress_at(const Vec3& place, double tolerance) const {
  double least = std::numeric_limits<double>::infinity();
  Vec3 weights{0, 0, 0};
  const std::array<int, 3>* best = nullptr;
  for (const auto& f : faces_) {
    const Vec3 a = mesh_.nodes.col(f[0]), b = mesh_.nodes.col(f[1]), c = mesh_.nodes.col(f[2]);
    const Vec3 w = nearest_on(place, a, b, c);
    const double distance = (w[0] * a + w[1] * b + w[2] * c - place).norm();
    if (distance >= least) continue;
    least = distance;
    weights = w;
    best = &f;
  }
  if (!best || least > tolerance) return {};
  Eigen::MatrixXd out = Eigen::MatrixXd::Zero(6, stress_.front().cols());
  for (int i = 0; i < 3; ++i) out += weights[i] * stress_[static_cast<std::size_t>(slot_[static_cast<std::size_t>((*best)[static_cast<std::size_t>(i)])])];
  return out;
}

}  // namespace seamwright::solid
