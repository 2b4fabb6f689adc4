// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/shape/cylinder.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

namespace seamwright::shape {

namespace {

// Sine squared below which axes count as parallel: their common perpendicular is then no place.
constexpr double parallel = 1e-12;

// Smallest value of a convex function on [low, high], by golden section.
template <typename Function>
double least(double low, double high, const Function& f) {
  constexpr double golden = 0.6180339887498949;
  double a = high - golden * (high - low), b = low + golden * (high - low);
  double at_a = f(a), at_b = f(b);
  for (int i = 0; i < 34; ++i) {  // to 1e-7 of the range
    if (at_a < at_b) {
      high = b;
      b = a;
      at_b = at_a;
      at_a = f(a = high - golden * (high - low));
    } else {
      low = a;
      a = b;
      at_a = at_b;
      at_b = f(b = low + golden * (high - low));
    }
  }
  return std::min(at_a, at_b);
}

// The deepest point of an end of one cylinder lies this deep in the other: depth is concave, so two searches
// one inside the other find it.
double end_depth(const Vec3& centre, const Vec3& axis, double radius, const Cylinder& other) {
  const Vec3 x = axis.unitOrthogonal(), y = axis.cross(x);
  return -least(-radius, radius, [&](double u) {
    const double half = std::sqrt(std::max(0.0, radius * radius - u * u));
    return least(-half, half, [&](double v) { return outside_mm(centre + u * x + v * y, other); });
  });
}

// Sum of the radii less the distance of the axes, where their common perpendicular meets both between their
// ends.
double crossing_depth(const Cylinder& a, const Cylinder& b) {
  const Vec3 u = (a.to - a.from).normalized(), v = (b.to - b.from).normalized(), w = a.from - b.from;
  const double c = u.dot(v), sine2 = 1 - c * c;
  if (sine2 < parallel) return 0;
  const double s = (c * v.dot(w) - u.dot(w)) / sine2, t = (v.dot(w) - c * u.dot(w)) / sine2;
  if (s < 0 || t < 0 || s > (a.to - a.from).norm() || t > (b.to - b.from).norm()) return 0;
  return a.radius_mm + b.radius_mm - (w + s * u - t * v).norm();
}

// The middle of what lies between the planes of the other's ends, of a's axis: tubes side by side whose ends
// stand in one plane are deepest there and not at an end.
double middle_depth(const Cylinder& a, const Cylinder& b) {
  const Vec3 axis = (b.to - b.from).normalized(), run = a.to - a.from;
  const double start = (a.from - b.from).dot(axis), slope = run.dot(axis), length = (b.to - b.from).norm();
  double low = 0, high = 1;
  if (std::abs(slope) > 1e-9) {
    low = std::max(low, std::min(-start / slope, (length - start) / slope));
    high = std::min(high, std::max(-start / slope, (length - start) / slope));
  }
  if (low >= high) return 0;
  return end_depth(a.from + 0.5 * (low + high) * run, run.normalized(), a.radius_mm, b);
}

}  // namespace

Nearest nearest(const Vec3& a_from, const Vec3& a_to, const Vec3& b_from, const Vec3& b_to) {
  const Vec3 u = a_to - a_from, v = b_to - b_from, w = a_from - b_from;
  const double a = u.squaredNorm(), b = u.dot(v), c = v.squaredNorm(), d = u.dot(w), e = v.dot(w);
  const auto ratio = [](double x, double y) { return y > 0 ? std::clamp(x / y, 0.0, 1.0) : 0.0; };
  Nearest n;
  const double det = a * c - b * b;
  n.first = det > parallel * a * c ? std::clamp((b * e - c * d) / det, 0.0, 1.0) : 0;
  n.second = ratio(b * n.first + e, c);
  n.first = ratio(b * n.second - d, a);
  n.distance_mm = (w + n.first * u - n.second * v).norm();
  return n;
}

double outside_mm(const Vec3& point, const Cylinder& cylinder) {
  const Vec3 axis = cylinder.to - cylinder.from;
  const double length = axis.norm();
  const Vec3 from = point - cylinder.from;
  const double along = from.dot(axis) / length;
  const double beyond = std::abs(along - 0.5 * length) - 0.5 * length;
  const double aside = std::sqrt(std::max(0.0, from.squaredNorm() - along * along)) - cylinder.radius_mm;
  if (beyond > 0 && aside > 0) return std::hypot(beyond, aside);
  return std::max(beyond, aside);
}

double overlap_mm(const Cylinder& a, const Cylinder& b) {
  if (nearest(a.from, a.to, b.from, b.to).distance_mm >= a.radius_mm + b.radius_mm) return 0;
  const Vec3 u = (a.to - a.from).normalized(), v = (b.to - b.from).normalized();
  double depth = std::max({crossing_depth(a, b), middle_depth(a, b), middle_depth(b, a)});
  for (const Vec3* end : {&a.from, &a.to}) depth = std::max(depth, end_depth(*end, u, a.radius_mm, b));
  for (const Vec3* end : {&b.from, &b.to}) depth = std::max(depth, end_depth(*end, v, b.radius_mm, a));
  return std::max(0.0, depth);
}

}  // namespace seamwright::shape
