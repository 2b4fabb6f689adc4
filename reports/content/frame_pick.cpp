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

// The share of a band that stands free of everything before it.
double seen_share(const FrameDrawing& drawing, const FrameMesh& mesh, const FrameBands& bands,
                  const FrameBands::Band& band, const FrameCamera& camera,
                  const std::optional<HalfSpace>& kept) {
  constexpr std::size_t tried = 16;
  const std::size_t triangles = band.points / 3, apart = std::max<std::size_t>(1, triangles / tried);
  double seen = 0, all = 0;
  for (std::size_t i = 0; i < triangles; i += apart, ++all) {
    Vec3 middle(0, 0, 0);
    for (std::size_t k = 0; k < 3; ++k)
      for (int axis = 0; axis < 3; ++axis)
        middle[axis] += double{bands.points[band.first + 3 * i + k].place[axis]} / 3;
    const auto found = picked_at(drawing, mesh, bands, camera, kept, 0, projected(camera, middle));
    constexpr double near_mm = 2;
    if (found && (found->place_mm - middle).norm() < near_mm) ++seen;
  }
  return all > 0 ? seen / all : 0;
}

}  // namespace

FrameView facing_view(const FrameDrawing& drawing, const FrameMesh& mesh, const FrameBands& bands,
                      const FrameView& view, const std::string& flag, double width_mm, double height_mm) {
  const FrameView pulled = pulled_to(view, drawing, flag);
  const auto band = std::find_if(bands.bands.begin(), bands.bands.end(),
                                 [&](const auto& b) { return drawing.flags[b.flag].id == flag; });
  if (band == bands.bands.end() || band->points == 0) return pulled;
  constexpr double enough = 0.3;  // a tube hides half of its band at best
  FrameView best = pulled;
  double most = -1;
  for (const double tip_deg : {view.tip_deg, 45.0, -35.0})
    for (const double turn_deg : {0, 30, -30, 60, -60, 90, -90, 120, -120, 150, -150, 180}) {
      FrameView next = pulled;
      next.turn_deg += turn_deg;
      next.tip_deg = tip_deg;
      const double seen =
          seen_share(drawing, mesh, bands, *band, camera_of(drawing, next, width_mm, height_mm),
                     kept_by(next.section, drawing));
      if (seen >= enough) return next;
      if (seen > most) {
        most = seen;
        best = next;
      }
    }
  return best;
}

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
