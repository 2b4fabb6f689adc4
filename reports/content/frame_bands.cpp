// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/frame_bands.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

#include "reports/content/weld_card.h"

namespace seamwright::reports {

namespace {

using frame::Vec3;

struct Corner {
  Vec3 place, normal;
  double along = 0;  // from the flag, along its tube
};

// A polygon is cut off beyond a place along the tube.
std::vector<Corner> clipped(const std::vector<Corner>& polygon, double sign, double limit) {
  std::vector<Corner> out;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Corner &a = polygon[i], &b = polygon[(i + 1) % polygon.size()];
    const double out_a = sign * (a.along - limit), out_b = sign * (b.along - limit);
    if (out_a <= 0) out.push_back(a);
    if ((out_a <= 0) == (out_b <= 0)) continue;
    const double t = out_a / (out_a - out_b);
    out.push_back({a.place + t * (b.place - a.place), (a.normal + t * (b.normal - a.normal)).normalized(),
                   a.along + t * (b.along - a.along)});
  }
  return out;
}

struct Slab {
  const FrameDrawing& drawing;
  const FrameDrawing::Flag& flag;
  double from_mm, to_mm;
  BandPoint pattern;
  const FrameMotion* motion;
  std::vector<std::size_t> stretches;
  Vec3 u, v;
};

BandPoint band_point(const Slab& slab, const Corner& c) {
  BandPoint p = slab.pattern;
  const Vec3 r = c.place - slab.flag.at_mm;
  constexpr double lift_mm = 0.3;  // off the tube
  const Vec3 place = c.place + lift_mm * c.normal;
  Vec3 move(0, 0, 0);
  if (slab.motion)
    move = motion_there(slab.drawing, *slab.motion, axis_place(slab.drawing, slab.stretches, place), place);
  for (int k = 0; k < 3; ++k) {
    p.place[k] = static_cast<float>(place[k]);
    p.normal[k] = static_cast<float>(c.normal[k]);
    p.move[k] = static_cast<float>(move[k]);
  }
  p.around = static_cast<float>(0.5 + std::atan2(r.dot(slab.v), r.dot(slab.u)) / (2 * std::numbers::pi));
  p.across = static_cast<float>(std::clamp(c.along / slab.to_mm, 0.0, 1.0));
  return p;
}

// A triangle of the tube's outside, as far as it lies in the slab.
void add_clipped(const Slab& slab, const std::vector<Corner>& triangle, FrameBands& out) {
  const std::vector<Corner> polygon = clipped(clipped(triangle, -1, slab.from_mm), 1, slab.to_mm);
  std::vector<BandPoint> points;
  for (const Corner& c : polygon) points.push_back(band_point(slab, c));
  for (std::size_t i = 2; i < points.size(); ++i)
    for (const std::size_t k : {std::size_t{0}, i - 1, i}) {
      BandPoint p = points[k];
      // The angle goes on around the seam instead of jumping back.
      if (p.around - points[0].around > 0.5F) p.around -= 1;
      if (points[0].around - p.around > 0.5F) p.around += 1;
      out.points.push_back(p);
    }
}

bool is_outside(const Slab& slab, const Corner& c) {
  const Vec3 r = c.place - slab.flag.at_mm;
  const Vec3 radial = r - slab.flag.along.dot(r) * slab.flag.along;
  return c.normal.dot(radial) > 0 && std::abs(c.normal.dot(slab.flag.along)) < 0.9;
}

void add_band(const Slab& slab, const FrameMesh& mesh, const FrameMesh::Body& body, FrameBands& out) {
  std::vector<Corner> corners(3);
  for (std::size_t i = 0; i < body.triangles; ++i) {
    int before = 0, beyond = 0;
    bool outside = true;
    for (std::size_t k = 0; k < 3; ++k) {
      const std::size_t p = 3 * std::size_t{mesh.triangles[3 * (body.first_triangle + i) + k]};
      Corner& c = corners[k];
      c.place = Vec3(mesh.points[p], mesh.points[p + 1], mesh.points[p + 2]);
      c.normal = Vec3(mesh.normals[p], mesh.normals[p + 1], mesh.normals[p + 2]);
      c.along = slab.flag.along.dot(c.place - slab.flag.at_mm);
      before += c.along < slab.from_mm;
      beyond += c.along > slab.to_mm;
      outside = outside && is_outside(slab, c);
    }
    if (outside && before < 3 && beyond < 3) add_clipped(slab, corners, out);
  }
}

FrameBands::Band bounded(FrameBands::Band band, const std::vector<BandPoint>& points) {
  band.least = Eigen::Vector3f::Constant(1e30F);
  band.most = -band.least;
  for (std::size_t i = band.first; i < band.first + band.points; ++i) {
    const Eigen::Map<const Eigen::Vector3f> p(points[i].place);
    band.least = band.least.cwiseMin(p);
    band.most = band.most.cwiseMax(p);
  }
  return band;
}

BandShape shape_of(const FrameLook& look, const std::string& flag) {
  if (look.not_covered.contains(flag)) return BandShape::hatched;
  return look.falls_short.contains(flag) ? BandShape::teeth : BandShape::plain;
}

}  // namespace

double band_width_mm(double diameter_mm, double level) { return (0.12 + 0.68 * level) * diameter_mm; }

FrameBands frame_bands(const FrameDrawing& drawing, const FrameMesh& mesh, const FrameLook& look) {
  FrameBands out;
  std::multimap<std::string, const FrameMesh::Body*> parts;
  for (const FrameMesh::Body& body : mesh.bodies)
    if (!body.weld) parts.emplace(body.id, &body);
  for (std::size_t i = 0; i < drawing.flags.size(); ++i) {
    const auto& flag = drawing.flags[i];
    const auto used = look.used.find(flag.id);
    if (used == look.used.end()) continue;
    const BandShape shape = shape_of(look, flag.id);
    const double level = shape == BandShape::hatched ? 0.4 : place_of_used(used->second);
    // A weld on a chord reaches into it; one around a tube lies to both sides.
    const bool on_chord = (flag.at_mm - drawing.points[flag.point].at_mm).norm() > 1e-6;
    const double width_mm = band_width_mm(flag.diameter_mm, level);
    const Vec3 u = flag.along.unitOrthogonal();
    BandPoint pattern{};
    pattern.level = static_cast<float>(level);
    pattern.shape = static_cast<float>(shape);
    const bool moves = look.motion && look.motion->at.size() == drawing.points.size();
    const Slab slab{drawing,
                    flag,
                    on_chord ? -flag.diameter_mm : -0.5 * width_mm,
                    on_chord ? flag.reach_mm + width_mm : 0.5 * width_mm,
                    pattern,
                    moves ? look.motion : nullptr,
                    stretches_of(drawing, flag.member),
                    u,
                    flag.along.cross(u)};
    const std::size_t first = out.points.size();
    for (auto [it, end] = parts.equal_range(flag.member); it != end; ++it)
      add_band(slab, mesh, *it->second, out);
    out.bands.push_back(bounded({i, first, out.points.size() - first, {}, {}}, out.points));
  }
  return out;
}

}  // namespace seamwright::reports
