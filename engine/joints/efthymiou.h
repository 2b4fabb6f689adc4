// SPDX-License-Identifier: GPL-3.0-or-later
// Stress concentration of circular T and Y joints after Efthymiou (1988), as printed in DNV-RP-C203 Appendix
// B, Table B-1. All factors multiply BRACE nominal stress, with the moments where the brace's axis meets the
// chord's surface.
#pragma once

#include <vector>

#include "engine/evidence/evidence.h"

namespace seamwright::joints {

struct TyJoint {
  double chord_diameter_mm = 0, chord_wall_mm = 0;
  double chord_length_mm = 0;  ///< between supports or points of contraflexure of the chord
  double brace_diameter_mm = 0, brace_wall_mm = 0;
  double angle_deg = 90;  ///< between the axes, 0 < angle <= 90
};

/// beta = d/D, gamma = D/(2T), tau = t/T, alpha = 2L/D.
struct JointRatios {
  double alpha = 0, beta = 0, gamma = 0, tau = 0, angle_deg = 90;
};
JointRatios joint_ratios(const TyJoint& joint);

/// Range of validity (Table B-1 and Appendix B text) as limits.
std::vector<Limit> ty_limits(const JointRatios& r);
/// The parameters brought into that range.
JointRatios limiting(const JointRatios& r);
double sine(const JointRatios& r);  ///< of the angle between the axes

// Equations by their numbers in Table B-1; fixity C = 0.5 (fixed) ... 1 (pinned), 0.7 typical. Dimensionless.
double eq1_chord_saddle_axial_fixed(const JointRatios& r);
double eq2_chord_crown_axial_fixed(const JointRatios& r);
double eq3_brace_saddle_axial(const JointRatios& r);
double eq4_brace_crown_axial_fixed(const JointRatios& r);
double eq5_chord_saddle_axial(const JointRatios& r, double fixity);
double eq6_chord_crown_axial(const JointRatios& r, double fixity);
double eq7_brace_crown_axial(const JointRatios& r, double fixity);
double eq6b_chord_crown_axial_frame(
    const JointRatios& r);  ///< without the chord's own bending, for frame moments
double eq7b_brace_crown_axial_frame(const JointRatios& r);
double eq8_chord_crown_in_plane(const JointRatios& r);
double eq9_brace_crown_in_plane(const JointRatios& r);
double eq10_chord_saddle_out_of_plane(const JointRatios& r);
double eq11_brace_saddle_out_of_plane(const JointRatios& r);
double f1_short_chord(const JointRatios& r);  ///< 1 for alpha >= 12
double f2_short_chord(const JointRatios& r);
double f3_short_chord(const JointRatios& r);

/// Factors of one side of the weld.
struct ScfSide {
  double axial_crown = 1, axial_saddle = 1, in_plane = 1, out_of_plane = 1;
};
struct TyScf {
  ScfSide chord, brace;
  double chord_attachment = 1.27;        ///< factor on the chord's own nominal stress, chord side (eq. 6b)
  double brace_attachment = 0.4 * 1.27;  ///< on the brace side at the crown (eq. 7b)
  Evidence evidence;
};

/// Factors for use with frame moments: crown by 6b and 7b, saddle by 5 (fixity) and 3, bending by 8-11,
/// short-chord factors where the table gives them. Outside the range: computed at the actual
/// and at the limiting parameters, the larger of each taken, coverage extended. Never below 1.5 (API RP
/// 2A-WSD 22nd / ISO 19902, from memory). Coverage none (brace wider than the chord, or angle outside 0..90).
TyScf ty_scf(const TyJoint& joint, double fixity);

}  // namespace seamwright::joints
