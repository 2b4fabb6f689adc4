// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/shape/fibre.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>

namespace seamwright::shape {

namespace {

using Vec2 = Eigen::Vector2d;
constexpr double far_away = std::numeric_limits<double>::infinity();
constexpr Interval nowhere{1, 0};
constexpr Interval everywhere{-far_away, far_away};

Interval both(const Interval& a, const Interval& b) {
  return {std::max(a.from_mm, b.from_mm), std::min(a.to_mm, b.to_mm)};
}

// The hull of two pieces of one convex figure.
Interval hull(const Interval& a, const Interval& b) {
  if (a.empty()) return b;
  if (b.empty()) return a;
  return {std::min(a.from_mm, b.from_mm), std::max(a.to_mm, b.to_mm)};
}

// The stretch of t over which |at + t step| <= half, in one coordinate.
Interval in_slab(double at, double step, double half) {
  if (step == 0) return std::abs(at) <= half ? everywhere : nowhere;
  const double a = (-half - at) / step, b = (half - at) / step;
  return {std::min(a, b), std::max(a, b)};
}

Interval in_disc(const Vec2& at, const Vec2& step, double radius) {
  const double a = step.squaredNorm(), b = at.dot(step), c = at.squaredNorm() - radius * radius;
  if (a < 1e-24) return c <= 0 ? everywhere : nowhere;
  const double root = b * b - a * c;
  if (!(root > 0)) return nowhere;
  return {(-b - std::sqrt(root)) / a, (-b + std::sqrt(root)) / a};
}

// A rectangle with round corners is the union of two rectangles and four discs, and convex.
Interval in_rectangle(const Vec2& at, const Vec2& step, const Vec2& half, double corner) {
  const auto box = [&](double y, double z) {
    return both(in_slab(at.x(), step.x(), y), in_slab(at.y(), step.y(), z));
  };
  if (!(corner > 0)) return box(half.x(), half.y());
  Interval found = hull(box(half.x(), half.y() - corner), box(half.x() - corner, half.y()));
  for (const double y : {-1.0, 1.0})
    for (const double z : {-1.0, 1.0})
      found = hull(found, in_disc(at - Vec2(y * (half.x() - corner), z * (half.y() - corner)), step, corner));
  return found;
}

struct Contour {
  Vec2 at, step;
  Interval operator()(const frame::RoundTube& t) const { return in_disc(at, step, t.diameter_mm / 2); }
  Interval operator()(const frame::SolidBar& b) const { return in_disc(at, step, b.diameter_mm / 2); }
  Interval operator()(const frame::RectangularTube& t) const {
    return in_rectangle(at, step, {t.height_mm / 2, t.width_mm / 2}, t.corner_radius_mm);
  }
  Interval operator()(const frame::FlatOvalTube& t) const {
    return in_rectangle(at, step, {t.height_mm / 2, t.width_mm / 2}, std::min(t.height_mm, t.width_mm) / 2);
  }
  Interval operator()(const frame::PlateStrip& p) const {
    return in_rectangle(at, step, {p.height_mm / 2, p.thickness_mm / 2}, 0);
  }
};

}  // namespace

Vec3 along(const Stretch& s) { return (s.to - s.from).normalized(); }
Vec3 across(const Stretch& s) { return along(s).cross(s.up); }
double length_mm(const Stretch& s) { return (s.to - s.from).norm(); }

Interval inside(const Line& line, const Stretch& filled) {
  const Vec3 axis = along(filled), side = axis.cross(filled.up), at = line.point - filled.from;
  const double half = length_mm(filled) / 2;
  const Interval between = in_slab(at.dot(axis) - half, line.direction.dot(axis), half);
  if (between.empty()) return nowhere;
  return both(between, std::visit(Contour{{at.dot(filled.up), at.dot(side)},
                                          {line.direction.dot(filled.up), line.direction.dot(side)}},
                                  filled.section));
}

Interval inside(const Line& line, const HalfSpace& space) {
  const double height = (line.point - space.point).dot(space.away), climb = line.direction.dot(space.away);
  if (climb == 0) return height > 0 ? everywhere : nowhere;
  return climb > 0 ? Interval{-height / climb, far_away} : Interval{-far_away, -height / climb};
}

Interval inside(const Line& line, const Cut& cut) {
  return std::visit([&](const auto& tool) { return inside(line, tool); }, cut.tool);
}

HalfSpace mitre_of(const Stretch& first, const Stretch& second) {
  return {first.to, (along(first) + along(second)).normalized()};
}

Interval between_mitres(const Line& line, const std::vector<Stretch>& all, std::size_t i) {
  const Vec3 axis = along(all[i]);
  const double start = (all[i].from - line.point).dot(axis);
  Interval whole{start, start + length_mm(all[i])};
  if (i > 0) whole.from_mm = inside(line, mitre_of(all[i - 1], all[i])).from_mm;
  if (i + 1 < all.size()) whole.to_mm = inside(line, mitre_of(all[i], all[i + 1])).from_mm;
  return whole;
}

std::vector<Interval> kept(const Line& line, Interval whole, const std::vector<Cut>& cuts) {
  std::vector<Interval> left{whole};
  for (const Cut& cut : cuts) {
    const Interval out = inside(line, cut);
    if (out.empty()) continue;
    std::vector<Interval> next;
    for (const Interval& piece : left)
      for (const Interval& part : {Interval{piece.from_mm, std::min(piece.to_mm, out.from_mm)},
                                   Interval{std::max(piece.from_mm, out.to_mm), piece.to_mm}})
        if (!part.empty()) next.push_back(part);
    left = std::move(next);
  }
  return left;
}

}  // namespace seamwright::shape
