// SPDX-License-Identifier: GPL-3.0-or-later
// Static resistance of joints between round tubes: EN 1993-1-8:2005, 7.4 [partly from memory]. The later
// edition has other formulas, in places higher.
#pragma once

#include <vector>

#include "engine/evidence/evidence.h"

namespace seamwright::joints {

enum class Pattern { t_or_y, x, k_gap };

struct TubeJoint {
  Pattern pattern = Pattern::t_or_y;
  double chord_diameter_mm = 0, chord_wall_mm = 0, brace_diameter_mm = 0, brace_wall_mm = 0, angle_deg = 90;
  double chord_yield_mpa = 0;
  double chord_stress_ratio = 0;  ///< of the chord's largest compression to its yield, positive; 0 in tension
  double gap_mm = 0;              ///< K: between the toes
  double other_diameter_mm = 0;   ///< K: the other brace's, for the compressed brace's formula
};

/// Resistances of the brace at the chord's face: the lesser of chord face failure and punching shear, N and N
/// mm. Table 7.2 (T, Y; X; K with gap), Table 7.5 (moments), 0.9 for a yield above 355 MPa (7.1.1(4)),
/// gamma_M5 1.0. Range Table 7.1: d/d0 0.2..1, d0/t0 10..50 (X 40), d/t 10..50, angle 30.., walls 2.5 mm and
/// more, yield up to 460. Outside it coverage is extended. Throws Fault "joints.no-tube-joint" for what is
/// none.
struct TubeJointResistance {
  double axial_n = 0, in_plane_nmm = 0, out_of_plane_nmm = 0;
  double face_axial_n = 0,
         punching_axial_n = 0;  ///< punching infinite where the brace is as wide as the chord
  Evidence evidence;
};
TubeJointResistance tube_joint_resistance(const TubeJoint& joint);

/// N/N_Rd + (M_ip/M_ip,Rd)^2 + |M_op|/M_op,Rd, (7.3); at most 1.
double tube_joint_use(const TubeJointResistance& r, double axial_n, double in_plane_nmm,
                      double out_of_plane_nmm);

}  // namespace seamwright::joints
