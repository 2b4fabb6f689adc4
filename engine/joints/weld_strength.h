// SPDX-License-Identifier: GPL-3.0-or-later
// Static strength of fillet welds, EN 1993-1-8:2005, 4.5.3 [from memory]; gamma_M2 1.25.
#pragma once

#include "engine/evidence/evidence.h"

namespace seamwright::joints {

/// Stresses on the throat plane, MPa.
struct ThroatStress {
  double sigma_perpendicular_mpa = 0, tau_perpendicular_mpa = 0, tau_parallel_mpa = 0;
};
/// ultimate: of the weaker part, or the filler's where that is lower. correlation: beta_w of Table 4.1; 1.0
/// for steels that are not in it (safe side; marked).
struct WeldMaterial {
  double ultimate_mpa = 0, correlation = 1;
};
/// Use of strength, at most 1. Directional: the larger of sqrt(s^2 + 3 (t^2 + t'^2)) / (fu / (beta_w gM2))
/// and s / (0.9 fu / gM2). Simplified: resultant of all stresses over fu / (sqrt 3 beta_w gM2).
struct WeldUse {
  double directional = 0, simplified = 0;
  Evidence evidence;
};
WeldUse weld_use(const ThroatStress& stress, const WeldMaterial& material);
/// Takes forces per length across and along a fillet with throats at 45 degrees.
ThroatStress throat_of(double across_n_mm, double along_n_mm, double throat_mm);

/// Throat over wall from which a one-sided transverse fillet is as strong as the wall: sqrt(2) beta_w gM2 fy
/// / (gM0 fu), gM0 1.0. Derived from the directional method.
double full_strength_throat_ratio(double yield_mpa, const WeldMaterial& material);

}  // namespace seamwright::joints
