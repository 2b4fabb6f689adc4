// SPDX-License-Identifier: GPL-3.0-or-later
// X joints and K joints with gap: DNV-RP-C203 Appendix B, Tables B-2 and B-3 (Efthymiou 1988). Factors on the
// nominal stress of the brace under consideration; parameters of that brace.
#pragma once

#include "engine/joints/efthymiou.h"

namespace seamwright::joints {

// X joints, both braces loaded in balance; bending in plane as eqs 8 and 9.
double eq12_chord_saddle_x(const JointRatios& r);
double eq13_chord_crown_x(const JointRatios& r);
double eq14_brace_saddle_x(const JointRatios& r);
double eq15_brace_crown_x(const JointRatios& r);
double eq16_chord_saddle_x_out(const JointRatios& r);
double eq17_brace_saddle_x_out(const JointRatios& r);

/// The other brace of a K joint, on the same side of the chord in one plane, and the gap between the toes
/// over the chord's diameter (negative: overlap).
struct KPartner {
  JointRatios ratios;
  double zeta = 0;
};
/// Balanced axial load; one value for a whole side.
double eq20_chord_k(const JointRatios& r, const KPartner& other);
/// overlap: 0 for a gap, 1 for the brace that runs through, 0.5 for the one that laps over it.
double eq21_brace_k(const JointRatios& r, const KPartner& other, double overlap);
/// Out-of-plane bending with both braces loaded alike; F4 for short chords (alpha < 12).
double eq23_chord_saddle_k_out(const JointRatios& r, const KPartner& other);
double eq24_brace_saddle_k_out(const JointRatios& r, const KPartner& other);
double eq25_chord_saddle_k_one_loaded_out(const JointRatios& r, const KPartner& other);  ///< from memory
double f4_short_chord(const JointRatios& r);

/// A brace's axial force finds its balance so: shares of it, sum 1. x: by a brace opposite; k: by a brace on
/// the same side; y: by the chord.
struct Shares {
  double y = 1, x = 0, k = 0;
};
/// Factors for frame moments with those shares: crown and saddle of axial load as the shares' mean of eqs 5 /
/// 6b, 12 / 13 and 20 (brace side 3 / 7b, 14 / 15 and 21); bending as T and Y. Outside the ranges (K: gap
/// from -0.6 beta/sin(angle) to 1) as ty_scf(): actual and limiting parameters, the larger, extended. Throws
/// what ty_scf() throws, and "joints.bad-shares".
TyScf shared_scf(const TyJoint& joint, double fixity, const Shares& shares, const TyJoint* other,
                 double gap_mm);

}  // namespace seamwright::joints
