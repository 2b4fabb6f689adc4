// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/frame_pick.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace seamwright::reports {

namespace {

using frame::Vec3;

// A triangle in the picture: right, up and depth from the pointer.
using Seen = std::array<Vec3, 3>;

// The depth of the triangle under the pointer, where it covers it.
std::optional<double> depth_under(const Seen& t) {
  const auto cross = [](const Vec3& a, const Vec3& b) { return a[0] * b[1] - a[1] * b[0]; };
  const double whole = cross(t[1] - t[0], t[2] - t[0]);
  if (std::abs(whole) < 1e-12) return {};
  const double a = cross(t[1], t[2]) / whole, b = cross(t[2], t[0]) / whole, c = 1 - a - b;
  if (a < 0 || b < 0 || c < 0) return {};
  return a * t[0][2] + b * t[1][2] + c * t[2][2];
}

Picked named(const std::string& id, bool weld) {
  Picked picked;
  picked.id = id;
  picked.weld = weld;
  return picked;
}

class Pointer {
 public:
  Pointer(const FrameCamera& camera, const std::optional<HalfSpace>& kept, double scale, const Point& point)
      : camera_(camera), kept_(kept), scale_(scale), origin_(unprojected(camera, point, 0)) {}

  Vec3 seen(const float* place, const float* move) const {
    Vec3 p(place[0], place[1], place[2]);
    if (move) p += scale_ * Vec3(move[0], move[1], move[2]);
    return camera_.axes * (p - origin_);
  }
  Vec3 place(double depth) const { return origin_ + camera_.axes.transpose() * Vec3(0, 0, depth); }
  // The frame's place under the pointer on a triangle, unless a section took it.
  bool is_nearer(const Seen& triangle) {
    const auto depth = depth_under(triangle);
    if (!depth || *depth <= nearest_) return false;
    if (kept_ && kept_->normal.dot(place(*depth)) > kept_->offset_mm) return false;
    nearest_ = *depth;
    return true;
  }
  // The pointer stands over the box around something, which may have moved by so much.
  bool may_meet(const Eigen::Vector3f& least, const Eigen::Vector3f& most, double moved_mm) const {
    const Vec3 half = (0.5 * (most - least).cast<double>()).array() + moved_mm;
    const Vec3 middle = camera_.axes * (0.5 * (most + least).cast<double>() - origin_);
    const Vec3 reach = camera_.axes.cwiseAbs() * half;
    return std::abs(middle[0]) <= reach[0] && std::abs(middle[1]) <= reach[1];
  }
  double nearest() const { return nearest_; }

 private:
  const FrameCamera& camera_;
  const std::optional<HalfSpace>& kept_;
  double scale_;
  Vec3 origin_;
  double nearest_ = -1e300;
};

}  // namespace

std::optional<Picked> picked_at(const FrameDrawing& drawing, const FrameMesh& mesh, const FrameBands& bands,
                                const FrameCamera& camera, const std::optional<HalfSpace>& kept, double scale,
                                const Point& point) {
  Pointer pointer(camera, kept, scale, point);
  std::optional<Picked> found;
  const bool moved = !mesh.moves.empty();
  double moved_mm = 0;
  for (const float m : mesh.moves) moved_mm = std::max(moved_mm, std::abs(scale * double{m}));
  for (const FrameMesh::Body& body : mesh.bodies) {
    if (!pointer.may_meet(body.least, body.most, moved_mm)) continue;
    for (std::size_t i = 0; i < body.triangles; ++i) {
      Seen t;
      for (std::size_t k = 0; k < 3; ++k) {
        const std::size_t p = 3 * std::size_t{mesh.triangles[3 * (body.first_triangle + i) + k]};
        t[k] = pointer.seen(&mesh.points[p], moved ? &mesh.moves[p] : nullptr);
      }
      if (pointer.is_nearer(t)) found = named(body.id, body.weld);
    }
  }
  for (const FrameBands::Band& band : bands.bands) {
    if (!pointer.may_meet(band.least, band.most, moved_mm)) continue;
    for (std::size_t i = 0; i + 2 < band.points; i += 3) {
      Seen t;
      for (std::size_t k = 0; k < 3; ++k) {
        const BandPoint& p = bands.points[band.first + i + k];
        t[k] = pointer.seen(p.place, p.move);
      }
      if (pointer.is_nearer(t)) found = named(drawing.flags[band.flag].id, true);
    }
  }
  if (found) found->place_mm = pointer.place(pointer.nearest());
  return found;
}

}  // namespace seamwright::reports
