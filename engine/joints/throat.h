// SPDX-License-Identifier: GPL-3.0-or-later
// Stress in the throat of a fillet weld around a tube, for cracks from the root.
#pragma once

#include "engine/evidence/evidence.h"

namespace seamwright::joints {

/// Forces per length of weld, N/mm: across the weld (pulling the brace off the chord) and along it.
struct LineForce {
  double across_n_mm = 0;
  double along_n_mm = 0;
};

/// Components on the throat plane at 45 degrees, throat a: sigma_perp = tau_perp = across / (sqrt(2) a),
/// tau_par = along / a. range = sqrt(sigma_perp^2 + tau_perp^2 + 0.2 tau_par^2): DNV-RP-C203 2.3.5 [from
/// memory]; curve W3.
struct ThroatResult {
  double range_mpa = 0;
  double sigma_perpendicular_mpa = 0, tau_perpendicular_mpa = 0, tau_parallel_mpa = 0;
  Evidence evidence;
};
ThroatResult throat_stress_dnv(const LineForce& range, double throat_mm);

}  // namespace seamwright::joints
