// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/fatigue/curve.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace seamwright::fatigue {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

void require_range(double range_mpa) {
  if (std::isfinite(range_mpa) && range_mpa >= 0) return;
  throw Fault{Message{"fatigue.bad-range", {number("range", range_mpa, "MPa")}}};
}

// Stress at the low end of a segment, on that segment's own line.
double stress_at(const Segment& segment, double cycles) {
  return std::pow(10.0, (segment.log_a - std::log10(cycles)) / segment.slope);
}

double whole_power(double base, int exponent) {
  double result = 1;
  for (int i = 0; i < exponent; ++i) result *= base;
  return result;
}

}  // namespace

const char* name_of(StressKind kind) {
  switch (kind) {
    case StressKind::nominal:
      return "nominal";
    case StressKind::hot_spot:
      return "hot-spot";
    case StressKind::throat:
      return "throat";
    case StressKind::shear:
      return "shear";
  }
  return "nominal";
}

std::vector<double> knees_mpa(const Curve& curve) {
  std::vector<double> knees;
  for (std::size_t i = 0; i + 1 < curve.segments.size(); ++i)
    knees.push_back(stress_at(curve.segments[i], curve.segments[i].to_cycles));
  return knees;
}

double cycles_to_failure(const Curve& curve, double range_mpa) {
  require_range(range_mpa);
  if (range_mpa == 0 || curve.segments.empty()) return infinity;
  if (curve.cutoff_mpa && range_mpa <= *curve.cutoff_mpa) return infinity;
  const std::vector<double> knees = knees_mpa(curve);
  std::size_t piece = 0;
  while (piece < knees.size() && range_mpa < knees[piece]) ++piece;
  const Segment& segment = curve.segments[piece];
  return std::pow(10.0, segment.log_a - segment.slope * std::log10(range_mpa));
}

double thickness_factor(const Curve& curve, double thickness_mm) {
  if (!(thickness_mm > 0))
    throw Fault{Message{"fatigue.bad-thickness", {number("thickness", thickness_mm, "mm")}}};
  if (curve.reference_thickness_mm <= 0 || thickness_mm <= curve.reference_thickness_mm) return 1.0;
  return std::pow(thickness_mm / curve.reference_thickness_mm, curve.thickness_exponent);
}

DamageLaw::DamageLaw(const Curve& curve, double stress_factor) {
  if (!(std::isfinite(stress_factor) && stress_factor > 0))
    throw Fault{Message{"fatigue.bad-factor", {number("factor", stress_factor, "")}}};
  const std::vector<double> knees = knees_mpa(curve);
  for (std::size_t i = 0; i < curve.segments.size(); ++i) {
    const Segment& s = curve.segments[i];
    Piece piece;
    piece.above_mpa = i < knees.size() ? knees[i] / stress_factor : 0;
    piece.slope = s.slope;
    piece.inverse_a = std::pow(10.0, s.slope * std::log10(stress_factor) - s.log_a);
    const double whole = std::round(s.slope);
    piece.whole_slope = std::abs(s.slope - whole) < 1e-12 && whole <= 16 ? static_cast<int>(whole) : 0;
    pieces_.push_back(piece);
  }
  if (curve.cutoff_mpa) cutoff_mpa_ = *curve.cutoff_mpa / stress_factor;
}

double DamageLaw::damage(double range_mpa) const {
  if (range_mpa <= cutoff_mpa_) return 0;
  for (const Piece& piece : pieces_) {
    if (range_mpa < piece.above_mpa) continue;
    const double power =
        piece.whole_slope > 0 ? whole_power(range_mpa, piece.whole_slope) : std::pow(range_mpa, piece.slope);
    return power * piece.inverse_a;
  }
  return 0;
}

}  // namespace seamwright::fatigue
