// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/shape/root_curve.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/evidence/constants.h"

namespace seamwright::shape {

namespace {

constexpr double full_turn = 2 * std::numbers::pi;

Vec3 radial(const TubePair& p, double angle) {
  return std::cos(angle) * p.crown + std::sin(angle) * p.brace.cross(p.crown);
}

Vec3 square_to_chord(const TubePair& p, const Vec3& v) { return v - v.dot(p.chord) * p.chord; }

}  // namespace

std::optional<double> reach_mm(const TubePair& p, double angle, double radius) {
  const Vec3 start = square_to_chord(p, p.foot + radius * radial(p, angle) - p.chord_at),
             step = square_to_chord(p, p.brace);
  const double a = step.squaredNorm(), b = start.dot(step),
               c = start.squaredNorm() - p.chord_radius_mm * p.chord_radius_mm;
  const double root = b * b - a * c;
  if (!(root >= 0) || !(a > 0)) return {};
  return (-b + std::sqrt(root)) / a;
}

std::optional<RootPoint> root_point(const TubePair& p, double angle) {
  const std::optional<double> reach = reach_mm(p, angle, p.brace_radius_mm);
  if (!reach) return {};
  RootPoint r;
  r.brace_normal = radial(p, angle);
  r.at = p.foot + p.brace_radius_mm * r.brace_normal + *reach * p.brace;
  r.chord_normal = square_to_chord(p, r.at - p.chord_at).normalized();
  r.dihedral_rad = std::acos(std::clamp(-r.brace_normal.dot(r.chord_normal), -1.0, 1.0));
  const Vec3 tangent = r.brace_normal.cross(r.chord_normal);
  if (!(tangent.norm() > 1e-9)) {  // the walls are tangent: along the brace, and straight on over the chord
    r.up_brace = (p.brace - p.brace.dot(r.chord_normal) * r.chord_normal).normalized();
    r.along_chord = -r.up_brace;
    return r;
  }
  r.up_brace = tangent.cross(r.brace_normal).normalized();
  if (r.up_brace.dot(r.chord_normal) < 0) r.up_brace = -r.up_brace;
  r.along_chord = tangent.cross(r.chord_normal).normalized();
  if (r.along_chord.dot(r.brace_normal) < 0) r.along_chord = -r.along_chord;
  return r;
}

std::optional<double> root_length_mm(const TubePair& p, int n) {
  // The curve's derivative is square to both normals; per angle it goes r along the brace's circumference.
  double length = 0;
  for (int i = 0; i < n; ++i) {
    const double angle = full_turn * i / n;
    const std::optional<RootPoint> r = root_point(p, angle);
    if (!r) return {};
    const Vec3 around = p.brace.cross(r->brace_normal), tangent = r->brace_normal.cross(r->chord_normal);
    const double share = std::abs(tangent.normalized().dot(around));
    if (!(share > 1e-6)) return {};  // the curve runs along a generator: the tubes are tangent there
    length += p.brace_radius_mm / share;
  }
  return length * full_turn / n;
}

Dihedrals dihedrals(const TubePair& p) {
  Dihedrals d;
  for (int i = 0; i < 360; ++i)
    if (const std::optional<RootPoint> r = root_point(p, i * degree)) {
      d.least_deg = std::min(d.least_deg, r->dihedral_rad / degree);
      d.most_deg = std::max(d.most_deg, r->dihedral_rad / degree);
    }
  return d;
}

}  // namespace seamwright::shape
