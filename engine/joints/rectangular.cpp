// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/joints/rectangular.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/evidence/constants.h"

namespace seamwright::joints {

SquareKScf square_k_scf(const SquareK& j) {
  for (const double x : {j.chord_width_mm, j.chord_wall_mm, j.brace_width_mm, j.brace_wall_mm, j.angle_deg})
    if (!(x > 0 && x < 1e5)) throw Fault{Message{"joints.bad-size", {number("value", x, "mm")}}};
  const double b = j.brace_width_mm / j.chord_width_mm, g = j.chord_width_mm / j.chord_wall_mm,
               tau = j.brace_wall_mm / j.chord_wall_mm, gap = j.gap_mm / j.chord_wall_mm,
               sine = std::sin(j.angle_deg * degree);
  SquareKScf scf;
  Evidence& e = scf.evidence;
  e.figure = std::string("square-k-concentration");
  e.source = {"cidect-dg8", "square hollow sections, K with gap"};
  e.limits = {limit("beta", b, "", 0.35, 1), limit("2gamma", g, "", 10, 35), limit("tau", tau, "", 0.25, 1),
              limit("angle", j.angle_deg, "deg", 30, 60)};
  if (!(gap > 0) || b > 1 + 1e-9 || !(sine > 0)) {
    e.coverage = Coverage::none;
    return scf;
  }
  if (!all_inside(e.limits)) e.coverage = Coverage::extended;
  const double chord = (0.48 * b - 0.5 * b * b - 0.012 / b + 0.012 / gap) * std::pow(g, 1.72) *
                       std::pow(tau, 0.78) * std::pow(gap, 0.2) * std::pow(sine, 2.09);
  const double brace =
      (-0.008 + 0.45 * b - 0.34 * b * b) * std::pow(g, 1.36) * std::pow(tau, -0.66) * std::pow(sine, 1.29);
  scf.chord = std::max(2.0, chord);
  scf.brace = std::max(2.0, brace);
  scf.chord_loading = std::max(2.0, (2.45 + 1.23 * b) * std::pow(gap, -0.27));
  e.value = std::max(scf.chord, scf.brace);
  e.inputs = {{"chord_side", scf.chord, ""},
              {"brace_side", scf.brace, ""},
              {"chord_loading", scf.chord_loading, ""},
              {"gap/wall", gap, ""}};
  return scf;
}

}  // namespace seamwright::joints
