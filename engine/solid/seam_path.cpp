// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/solid/seam_path.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "engine/shape/fibre.h"
#include "engine/shape/fillet.h"

namespace seamwright::solid {

namespace {

// Where the walls stand at more than this the weld is a butt, and a fillet's throat there says nothing: engineering choice of ours.
constexpr double most_dihedral_rad = 170 * std::numbers::pi / 180;

}  // namespace

SeamPath::SeamPath(const shape::FilletAround& fillet, int n, double fusion_mm) {
  const shape::TubePair pair = shape::pair_of(fillet);
  shape::TubePair within = pair;
  within.brace_radius_mm -= fusion_mm;
  if (!(within.brace_radius_mm > 0)) throw std::runtime_error("the brace is fused beyond its middle");
  const std::vector<shape::FilletSection> corners = shape::fillet_sections(fillet, n);
  if (corners.empty()) throw std::runtime_error("the brace misses the chord, or their walls are tangent");
  for (int i = 0; i < n; ++i) {
    SeamSection s;
    s.angle_rad = 2 * std::numbers::pi * i / n;
    const std::optional<shape::RootPoint> r = shape::root_point(pair, s.angle_rad);
    if (r->dihedral_rad > most_dihedral_rad) throw std::runtime_error("beside the chord's flank the walls are tangent: no fillet goes all around");
    const auto corner = corners.begin() + i;
    const shape::RootPoint inner = fusion_mm > 0 ? shape::root_point(within, s.angle_rad).value() : *r;
    s.root = fusion_mm > 0 ? inner.at : corner->root;
    s.slit_way = inner.along_chord;
    s.brace_toe = corner->brace_toe;
    s.chord_toe = corner->chord_toe;
    s.up_brace = r->up_brace;
    s.along_chord = r->along_chord;
    s.brace_normal = r->brace_normal;
    s.chord_normal = r->chord_normal;
    greatest_leg_mm_ = std::max({greatest_leg_mm_, (s.brace_toe - s.root).norm(), (s.chord_toe - s.root).norm()});
    sections_.push_back(s);
  }
  for (std::size_t i = 0; i < sections_.size(); ++i) {
    const Vec3 ahead = sections_[(i + 1) % sections_.size()].root - sections_[(i + sections_.size() - 1) % sections_.size()].root;
    sections_[i].tangent = ahead.normalized();
  }
}

std::size_t SeamPath::nearest(const Vec3& point) const {
  const auto distance = [&](const SeamSection& s) { return (s.root - point).squaredNorm(); };
  const auto best = std::min_element(sections_.begin(), sections_.end(),
                                     [&](const SeamSection& a, const SeamSection& b) { return distance(a) < distance(b); });
  return static_cast<std::size_t>(best - sections_.begin());
}

const SeamSection& SeamPath::section_at(double angle) const {
  const auto n = static_cast<long>(sections_.size());
  const long i = std::lround(angle / (2 * std::numbers::pi) * static_cast<double>(n)) % n;
  return sections_[static_cast<std::size_t>((i + n) % n)];
}

Vec3 normal_of(const shape::Stretch& tube, const Vec3& at) {
  const Vec3 off = at - tube.from, axis = shape::along(tube);
  return (off - off.dot(axis) * axis).normalized();
}

Vec3 step_on(const shape::Stretch& tube, const Vec3& from, const Vec3& direction, double step) {
  const Vec3 axis = shape::along(tube), off = from - tube.from, axial = off.dot(axis) * axis, out = off - axial;
  const double turn = step * direction.dot(axis.cross(out.normalized())) / out.norm();
  return tube.from + axial + step * direction.dot(axis) * axis + Eigen::AngleAxisd(turn, axis) * out;
}

}  // namespace seamwright::solid
