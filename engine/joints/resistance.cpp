// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/joints/resistance.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "engine/evidence/constants.h"

namespace seamwright::joints {

namespace {

constexpr double no_limit = std::numeric_limits<double>::infinity();

void check(const TubeJoint& j) {
  const bool fits = j.chord_wall_mm > 0 && 2 * j.chord_wall_mm < j.chord_diameter_mm && j.brace_wall_mm > 0 &&
                    2 * j.brace_wall_mm < j.brace_diameter_mm && j.brace_diameter_mm <= j.chord_diameter_mm &&
                    j.angle_deg > 0 && j.angle_deg <= 90 && j.chord_yield_mpa > 0;
  if (!fits)
    throw Fault{
        Message{"joints.no-tube-joint",
                {number("chord", j.chord_diameter_mm, "mm"), number("brace", j.brace_diameter_mm, "mm"),
                 number("angle", j.angle_deg, "deg"), number("yield", j.chord_yield_mpa, "MPa")}}};
}

// Factor on fy0 t0^2 kp / sin(angle) of chord face failure under axial force.
double axial_factor(const TubeJoint& j, double beta, double gamma) {
  if (j.pattern == Pattern::x) return 5.2 / (1 - 0.81 * beta);
  if (j.pattern == Pattern::t_or_y) return std::pow(gamma, 0.2) * (2.8 + 14.2 * beta * beta);
  const double kg = std::pow(gamma, 0.2) * (1 + 0.024 * std::pow(gamma, 1.2) /
                                                    (1 + std::exp(0.5 * j.gap_mm / j.chord_wall_mm - 1.33)));
  const double other = j.other_diameter_mm > 0 ? j.other_diameter_mm : j.brace_diameter_mm;
  return kg * (1.8 + 10.2 * std::min(j.brace_diameter_mm, other) / j.chord_diameter_mm);
}

std::vector<Limit> limits_of(const TubeJoint& j) {
  const double slender = j.chord_diameter_mm / j.chord_wall_mm;
  return {limit("d/d0", j.brace_diameter_mm / j.chord_diameter_mm, "", 0.2, 1),
          limit("d0/t0", slender, "", 10, j.pattern == Pattern::x ? 40 : 50),
          limit("d/t", j.brace_diameter_mm / j.brace_wall_mm, "", 10, 50),
          limit("angle", j.angle_deg, "deg", 30, 90),
          limit("chord_wall", j.chord_wall_mm, "mm", 2.5, 25),
          limit("brace_wall", j.brace_wall_mm, "mm", 2.5, 25),
          limit("yield", j.chord_yield_mpa, "MPa", 0, 460)};
}

}  // namespace

TubeJointResistance tube_joint_resistance(const TubeJoint& j) {
  check(j);
  const double sine = std::sin(j.angle_deg * degree), d = j.brace_diameter_mm;
  const double beta = d / j.chord_diameter_mm, gamma = 0.5 * j.chord_diameter_mm / j.chord_wall_mm;
  const double n = std::max(0.0, j.chord_stress_ratio), kp = std::min(1.0, 1 - 0.3 * n * (1 + n));
  const double reduction = j.chord_yield_mpa > 355 ? 0.9 : 1;
  const double face = reduction * kp * j.chord_yield_mpa * j.chord_wall_mm * j.chord_wall_mm / sine;
  const double shear = reduction * j.chord_yield_mpa / std::sqrt(3.0) * j.chord_wall_mm;
  const bool punches = d <= j.chord_diameter_mm - 2 * j.chord_wall_mm;
  TubeJointResistance r;
  r.face_axial_n = face * axial_factor(j, beta, gamma);
  r.punching_axial_n = punches ? shear * std::numbers::pi * d * (1 + sine) / (2 * sine * sine) : no_limit;
  r.axial_n = std::min(r.face_axial_n, r.punching_axial_n);
  const double lever = shear * d * d / (4 * sine * sine);
  r.in_plane_nmm =
      std::min(face * 4.85 * std::sqrt(gamma) * beta * d, punches ? lever * (1 + 3 * sine) : no_limit);
  r.out_of_plane_nmm = std::min(face * d * 2.7 / (1 - 0.81 * beta), punches ? lever * (3 + sine) : no_limit);
  Evidence& e = r.evidence;
  e.figure = "tube-joint-resistance";
  e.value = r.axial_n;
  e.unit = std::string("N");
  e.source = {"en-1993-1-8", "Tables 7.2 and 7.5"};
  e.from_memory = true;
  e.inputs = {{"chord_diameter", j.chord_diameter_mm, "mm"},
              {"chord_wall", j.chord_wall_mm, "mm"},
              {"brace_diameter", d, "mm"},
              {"brace_wall", j.brace_wall_mm, "mm"},
              {"angle", j.angle_deg, "deg"},
              {"chord_yield", j.chord_yield_mpa, "MPa"},
              {"k_p", kp, ""},
              {"reduction", reduction, ""}};
  e.limits = limits_of(j);
  e.coverage = all_inside(e.limits) ? Coverage::inside : Coverage::extended;
  return r;
}

double tube_joint_use(const TubeJointResistance& r, double axial_n, double in_plane_nmm,
                      double out_of_plane_nmm) {
  const double in_plane = in_plane_nmm / r.in_plane_nmm;
  return std::abs(axial_n) / r.axial_n + in_plane * in_plane +
         std::abs(out_of_plane_nmm) / r.out_of_plane_nmm;
}

}  // namespace seamwright::joints
