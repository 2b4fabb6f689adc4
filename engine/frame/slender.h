// SPDX-License-Identifier: GPL-3.0-or-later
// Slender members and thin walls: EN 1993-1-1:2005 [from memory].
#pragma once

#include "engine/evidence/evidence.h"

namespace seamwright::frame {

/// Cross-section class of a round tube in bending or compression: d/t up to 50, 70, 90 e^2 for 1, 2, 3 with
/// e^2 = 235/fy (Table 5.2, sheet 3); above, 4: shell buckling, EN 1993-1-6.
int round_tube_class(double diameter_mm, double wall_mm, double yield_mpa);

/// Flexural buckling, 6.3.1: chi = 1/(phi + sqrt(phi^2 - l^2)), phi = (1 + a (l - 0.2) + l^2)/2, l = sqrt(A
/// fy/Ncr); imperfection a 0.13, 0.21, 0.34, 0.49, 0.76 for curves a0, a, b, c, d (hot-finished hollow
/// sections a, from 460 MPa a0; cold-formed c; solid bars c). gamma_M1 1.0.
struct Buckling {
  double slenderness = 0, reduction = 1, resistance_n = 0;
  Evidence evidence;
};
Buckling flexural_buckling(double area_mm2, double least_i_mm4, double youngs_mpa, double yield_mpa,
                           double buckling_length_mm, double imperfection);

}  // namespace seamwright::frame
