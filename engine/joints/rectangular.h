// SPDX-License-Identifier: GPL-3.0-or-later
// K joints with gap of square hollow sections: CIDECT Design Guide 8 (2000), the same as IIW XV-E and ISO
// 14347.
#pragma once

#include "engine/evidence/evidence.h"

namespace seamwright::joints {

/// Two like braces on one face of the chord; sections square, lengths mm.
struct SquareK {
  double chord_width_mm = 0, chord_wall_mm = 0, brace_width_mm = 0, brace_wall_mm = 0;
  double angle_deg = 90, gap_mm = 0;
};

/// Factors on the nominal stress of the brace under balanced axial load (chord side, brace side) and on that
/// of the chord itself; each at least 2. Range: beta 0.35..1, 2 gamma 10..35, tau 0.25..1; outside extended.
/// No confirmed factors for bending of the brace or for T and X joints. Throws Fault "joints.bad-size"; a gap
/// that is not positive or beta beyond 1 is not covered.
struct SquareKScf {
  double chord = 0, brace = 0, chord_loading = 0;
  Evidence evidence;
};
SquareKScf square_k_scf(const SquareK& joint);

}  // namespace seamwright::joints
