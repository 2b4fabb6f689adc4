// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/design/plate.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace seamwright::design {

std::vector<Corner> triangle(double along_x, double along_y) {
  return {{0, 0, 0}, {along_x, 0, 0}, {0, along_y, 0}};
}

std::vector<Corner> dished(double along_x, double along_y, double radius) {
  // Half the angle of the arc over the long side: sin = chord / 2R; the bulge is the tangent of half of that.
  const double half_angle = std::asin(std::hypot(along_x, along_y) / (2 * radius));
  return {{0, 0, 0}, {along_x, 0, -std::tan(half_angle / 2)}, {0, along_y, 0}};
}

std::vector<Corner> tongue(double length, double width) {
  const double half = width / 2;
  return {{0, -half, 0}, {length - half, -half, 1}, {length - half, half, 0}, {0, half, 0}};
}

namespace {

double turn(const Corner& a, const Corner& b, const Corner& c) {
  return (b.x_mm - a.x_mm) * (c.y_mm - a.y_mm) - (b.y_mm - a.y_mm) * (c.x_mm - a.x_mm);
}

bool meet(const Corner& a, const Corner& b, const Corner& c, const Corner& d) {
  return turn(a, b, c) * turn(a, b, d) <= 0 && turn(c, d, a) * turn(c, d, b) <= 0 &&
         std::max(std::min(a.x_mm, b.x_mm), std::min(c.x_mm, d.x_mm)) <=
             std::min(std::max(a.x_mm, b.x_mm), std::max(c.x_mm, d.x_mm)) &&
         std::max(std::min(a.y_mm, b.y_mm), std::min(c.y_mm, d.y_mm)) <=
             std::min(std::max(a.y_mm, b.y_mm), std::max(c.y_mm, d.y_mm));
}

}  // namespace

bool crosses_itself(const std::vector<Corner>& outline) {
  const std::size_t n = outline.size();
  for (std::size_t i = 0; i < n; ++i)
    for (std::size_t j = i + 2; j < n; ++j)
      if ((j + 1) % n != i && meet(outline[i], outline[i + 1], outline[j], outline[(j + 1) % n])) return true;
  return false;
}

namespace {

// The outline's corners, with points of its arcs between them.
std::vector<Corner> straightened(const std::vector<Corner>& outline) {
  constexpr int pieces = 64;
  std::vector<Corner> points;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Corner &a = outline[i], &b = outline[(i + 1) % outline.size()];
    points.push_back({a.x_mm, a.y_mm, 0});
    if (a.bulge == 0) continue;
    // From a to a share of the arc the chord leans half the rest of the arc's angle off the whole chord, to the right; its
    // length goes with the sine of half the angle.
    const double half_angle = 2 * std::atan(a.bulge), dx = b.x_mm - a.x_mm, dy = b.y_mm - a.y_mm;
    for (int k = 1; k < pieces; ++k) {
      const double share = static_cast<double>(k) / pieces, lean = -half_angle * (1 - share);
      const double length = std::sin(half_angle * share) / std::sin(half_angle);
      points.push_back({a.x_mm + length * (dx * std::cos(lean) - dy * std::sin(lean)),
                        a.y_mm + length * (dx * std::sin(lean) + dy * std::cos(lean)), 0});
    }
  }
  return points;
}

}  // namespace

double depth_within_mm(const std::vector<Corner>& outline, double x, double y) {
  const std::vector<Corner> points = straightened(outline);
  bool within = false;  // a ray to the right crosses the outline an odd number of times
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Corner &a = points[i], &b = points[(i + 1) % points.size()];
    const double dx = b.x_mm - a.x_mm, dy = b.y_mm - a.y_mm, square = dx * dx + dy * dy;
    if ((a.y_mm > y) != (b.y_mm > y) && x < a.x_mm + (y - a.y_mm) / dy * dx) within = !within;
    const double share = square > 0 ? std::clamp(((x - a.x_mm) * dx + (y - a.y_mm) * dy) / square, 0.0, 1.0) : 0;
    nearest = std::min(nearest, std::hypot(a.x_mm + share * dx - x, a.y_mm + share * dy - y));
  }
  return within ? nearest : -nearest;
}

double outline_area_mm2(const std::vector<Corner>& outline) {
  double area = 0;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Corner &a = outline[i], &b = outline[(i + 1) % outline.size()];
    area += (a.x_mm * b.y_mm - b.x_mm * a.y_mm) / 2;
    if (a.bulge == 0) continue;
    // The segment between chord and arc: R^2/2 (angle - sin angle), angle = 4 atan(bulge); to the right of the
    // way it adds.
    const double angle = 4 * std::atan(a.bulge), chord = std::hypot(b.x_mm - a.x_mm, b.y_mm - a.y_mm);
    const double radius = chord / (2 * std::sin(std::abs(angle) / 2));
    area += radius * radius / 2 * (angle - std::sin(angle));
  }
  return area;
}

}  // namespace seamwright::design
