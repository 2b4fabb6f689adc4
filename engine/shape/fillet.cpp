// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/shape/fillet.h"

#include <Eigen/Geometry>
#include <cmath>
#include <limits>
#include <numbers>

#include "engine/evidence/constants.h"
#include "engine/shape/fibre.h"
#include "engine/shape/pieces.h"

namespace seamwright::shape {

namespace {

// A step along the chord's surface from a point: turned about its axis and shifted along it.
Vec3 on_chord(const TubePair& p, const Vec3& at, const Vec3& direction, double step_mm) {
  const Vec3 off = at - p.chord_at, axial = off.dot(p.chord) * p.chord, out = off - axial;
  const Vec3 around = p.chord.cross(out.normalized());
  const double turn = step_mm * direction.dot(around) / p.chord_radius_mm;
  return p.chord_at + axial + step_mm * direction.dot(p.chord) * p.chord +
         Eigen::AngleAxisd(turn, p.chord) * out;
}

// Six times the signed volume of the tetrahedron from the origin.
double six_volumes(const Vec3& a, const Vec3& b, const Vec3& c) { return a.dot(b.cross(c)); }

}  // namespace

double default_leg_mm(double throat, double dihedral) {
  const double half = std::min(dihedral, 120 * degree) / 2;
  return std::max(throat * std::numbers::sqrt2, throat / std::cos(half));
}

double ring_volume_mm3(const FilletRing& ring) {
  const double centroid = outer_radius_mm(ring.tube.section) + ring.leg_mm / 3;
  return ring.leg_mm * ring.leg_mm / 2 * 2 * std::numbers::pi * centroid;
}

double seam_length_mm(const WeldBody& weld) {
  if (const auto* around = std::get_if<FilletAround>(&weld.body))
    return root_length_mm(pair_of(*around)).value_or(std::numeric_limits<double>::quiet_NaN());
  if (const auto* ring = std::get_if<FilletRing>(&weld.body))
    return 2 * std::numbers::pi * outer_radius_mm(ring->tube.section);
  double length = 0;
  for (const FilletAlong& line : std::get<std::vector<FilletAlong>>(weld.body)) length += (line.to - line.from).norm();
  return length;
}

TubePair pair_of(const FilletAround& f) {
  return {f.brace.from,
          along(f.brace),
          f.crown,
          f.chord.from,
          along(f.chord),
          outer_radius_mm(f.brace.section),
          outer_radius_mm(f.chord.section)};
}

std::vector<FilletSection> fillet_sections(const FilletAround& fillet, int n) {
  const TubePair pair = pair_of(fillet);
  std::vector<FilletSection> out;
  for (int i = 0; i < n; ++i) {
    const double angle = 2 * std::numbers::pi * i / n, cosine = std::cos(angle);
    const std::optional<RootPoint> r = root_point(pair, angle);
    if (!r) return {};
    const double crown = cosine < 0 && fillet.leg_opposite_mm > 0 ? fillet.leg_opposite_mm : fillet.leg_crown_mm;
    const double leg = fillet.leg_saddle_mm + (crown - fillet.leg_saddle_mm) * cosine * cosine;
    const double climb = r->up_brace.dot(pair.brace);
    if (!(climb > 0.05)) return {};
    out.push_back({r->at, r->at + leg / climb * pair.brace, on_chord(pair, r->at, r->along_chord, leg)});
  }
  return out;
}

double fillet_volume_mm3(const std::vector<FilletSection>& sections) {
  double six = 0;
  const auto strip = [&](const Vec3& a, const Vec3& b, const Vec3& a_next, const Vec3& b_next) {
    six += six_volumes(a, b, b_next) + six_volumes(a, b_next, a_next);
  };
  if (sections.empty()) return 0;
  const Vec3 origin = sections[0].root;  // near, so that little is lost by cancelling
  for (std::size_t i = 0; i < sections.size(); ++i) {
    const FilletSection &s = sections[i], &t = sections[(i + 1) % sections.size()];
    const Vec3 r = s.root - origin, b = s.brace_toe - origin, c = s.chord_toe - origin,
               r2 = t.root - origin, b2 = t.brace_toe - origin, c2 = t.chord_toe - origin;
    strip(r, b, r2, b2);
    strip(b, c, b2, c2);
    strip(c, r, c2, r2);
  }
  return std::abs(six) / 6;
}

}  // namespace seamwright::shape
