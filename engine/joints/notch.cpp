// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/joints/notch.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/evidence/constants.h"

namespace seamwright::joints {

namespace {

// Rows: C1 to C4; columns: constant, sqrt(h/r), h/r.
using Fit = std::array<std::array<double, 3>, 4>;
constexpr Fit tension_blunt{
    {{0.926, 1.157, -0.099}, {0.012, -3.036, 0.961}, {-0.302, 3.977, -1.744}, {0.365, -2.098, 0.878}}};
constexpr Fit tension_sharp{
    {{1.200, 0.860, -0.022}, {-1.805, -0.346, -0.038}, {2.198, -0.486, 0.165}, {-0.593, -0.028, -0.106}}};
constexpr Fit bending_blunt{
    {{0.947, 1.206, -0.131}, {0.022, -3.405, 0.915}, {0.869, 1.777, -0.555}, {-0.810, 0.422, -0.260}}};
constexpr Fit bending_sharp{
    {{1.232, 0.832, -0.008}, {-3.813, 0.968, -0.260}, {7.423, -4.868, 0.869}, {-3.839, 3.070, -0.600}}};
constexpr Fit torsion{
    {{0.905, 0.783, -0.075}, {-0.437, -1.969, 0.553}, {1.557, 1.073, -0.578}, {-1.061, 0.171, 0.086}}};

double value(const Fit& fit, double sharpness, double step) {
  double sum = 0, power = 1;
  for (const auto& c : fit) {
    sum += power * (c[0] + c[1] * std::sqrt(sharpness) + c[2] * sharpness);
    power *= step;
  }
  return std::max(1.0, sum);
}

}  // namespace

ShoulderFactors shoulder_factors(const Shoulder& s) {
  if (!(s.small_mm > 0 && s.large_mm > s.small_mm && s.fillet_mm > 0 && std::isfinite(s.large_mm) &&
        std::isfinite(s.fillet_mm)))
    throw Fault{Message{"joints.shoulder",
                        {number("large", s.large_mm, "mm"), number("small", s.small_mm, "mm"),
                         number("fillet", s.fillet_mm, "mm")}}};
  const double height = 0.5 * (s.large_mm - s.small_mm), sharpness = height / s.fillet_mm;
  const double step = 2 * height / s.large_mm;
  const double direct = std::clamp(sharpness, 0.1, 20.0), twist = std::clamp(sharpness, 0.25, 4.0);
  ShoulderFactors f;
  f.tension = value(direct <= 2 ? tension_blunt : tension_sharp, direct, step);
  f.bending = value(direct <= 2 ? bending_blunt : bending_sharp, direct, step);
  f.torsion = value(torsion, twist, step);
  Evidence& e = f.evidence;
  e.figure = "shoulder-factors";
  e.value = f.bending;
  e.source = {"peterson-scf", "charts 3.4, 3.10, 3.12"};
  e.inputs = {{"large_diameter", s.large_mm, "mm"}, {"small_diameter", s.small_mm, "mm"},
              {"fillet_radius", s.fillet_mm, "mm"}, {"tension", f.tension, ""},
              {"bending", f.bending, ""},           {"torsion", f.torsion, ""}};
  e.limits = {limit("h/r", sharpness, "", 0.1, 20), limit("h/r (torsion)", sharpness, "", 0.25, 4)};
  e.coverage = all_inside(e.limits) ? Coverage::inside : Coverage::extended;
  return f;
}

std::array<double, 2> hole_edge_factors(double angle_deg) {
  const double twice = 2 * angle_deg * degree;
  return {1 - 2 * std::cos(twice), -4 * std::sin(twice)};
}

}  // namespace seamwright::joints
