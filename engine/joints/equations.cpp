// SPDX-License-Identifier: GPL-3.0-or-later
// The equations of DNV-RP-C203 Appendix B, Table B-1 (Efthymiou 1988), each under its number.
#include <cmath>

#include "engine/joints/efthymiou.h"

#include "engine/evidence/constants.h"

namespace seamwright::joints {

namespace {

double crown_base(const JointRatios& r) {
  return std::pow(r.gamma, 0.2) * r.tau * (2.65 + 5 * std::pow(r.beta - 0.65, 2));
}
double brace_crown_base(const JointRatios& r) {
  return 3 + std::pow(r.gamma, 1.2) * (0.12 * std::exp(-4 * r.beta) + 0.011 * r.beta * r.beta - 0.045);
}

}  // namespace

double sine(const JointRatios& r) { return std::sin(r.angle_deg * degree); }

JointRatios joint_ratios(const TyJoint& j) {
  return {2 * j.chord_length_mm / j.chord_diameter_mm, j.brace_diameter_mm / j.chord_diameter_mm,
          j.chord_diameter_mm / (2 * j.chord_wall_mm), j.brace_wall_mm / j.chord_wall_mm, j.angle_deg};
}

double eq1_chord_saddle_axial_fixed(const JointRatios& r) {
  return r.gamma * std::pow(r.tau, 1.1) * (1.11 - 3 * std::pow(r.beta - 0.52, 2)) * std::pow(sine(r), 1.6);
}
double eq2_chord_crown_axial_fixed(const JointRatios& r) {
  return crown_base(r) + r.tau * r.beta * (0.25 * r.alpha - 3) * sine(r);
}
double eq3_brace_saddle_axial(const JointRatios& r) {
  return 1.3 + r.gamma * std::pow(r.tau, 0.52) * std::pow(r.alpha, 0.1) *
                   (0.187 - 1.25 * std::pow(r.beta, 1.1) * (r.beta - 0.96)) *
                   std::pow(sine(r), 2.7 - 0.01 * r.alpha);
}
double eq4_brace_crown_axial_fixed(const JointRatios& r) {
  return brace_crown_base(r) + r.beta * r.tau * (0.1 * r.alpha - 1.2);
}
double eq5_chord_saddle_axial(const JointRatios& r, double fixity) {
  const double c1 = 2 * (fixity - 0.5);
  return eq1_chord_saddle_axial_fixed(r) + c1 * (0.8 * r.alpha - 6) * r.tau * r.beta * r.beta *
                                               std::sqrt(1 - r.beta * r.beta) *
                                               std::pow(std::sin(2 * r.angle_deg * degree), 2);
}
double eq6_chord_crown_axial(const JointRatios& r, double fixity) {
  return crown_base(r) + r.tau * r.beta * (fixity / 2 * r.alpha - 3) * sine(r);
}
double eq7_brace_crown_axial(const JointRatios& r, double fixity) {
  return brace_crown_base(r) + r.beta * r.tau * (fixity / 5 * r.alpha - 1.2);
}
double eq6b_chord_crown_axial_frame(const JointRatios& r) {
  return crown_base(r) - 3 * r.tau * r.beta * sine(r);
}
double eq7b_brace_crown_axial_frame(const JointRatios& r) {
  return brace_crown_base(r) - 1.2 * r.beta * r.tau;
}
double eq8_chord_crown_in_plane(const JointRatios& r) {
  return 1.45 * r.beta * std::pow(r.tau, 0.85) * std::pow(r.gamma, 1 - 0.68 * r.beta) *
         std::pow(sine(r), 0.7);
}
double eq9_brace_crown_in_plane(const JointRatios& r) {
  return 1 + 0.65 * r.beta * std::pow(r.tau, 0.4) * std::pow(r.gamma, 1.09 - 0.77 * r.beta) *
                 std::pow(sine(r), 0.06 * r.gamma - 1.16);
}
double eq10_chord_saddle_out_of_plane(const JointRatios& r) {
  return r.gamma * r.tau * r.beta * (1.7 - 1.05 * std::pow(r.beta, 3)) * std::pow(sine(r), 1.6);
}
double eq11_brace_saddle_out_of_plane(const JointRatios& r) {
  return std::pow(r.tau, -0.54) * std::pow(r.gamma, -0.05) *
         (0.99 - 0.47 * r.beta + 0.08 * std::pow(r.beta, 4)) * eq10_chord_saddle_out_of_plane(r);
}
double f1_short_chord(const JointRatios& r) {
  if (r.alpha >= 12) return 1;
  return 1 - (0.83 * r.beta - 0.56 * r.beta * r.beta - 0.02) * std::pow(r.gamma, 0.23) *
                 std::exp(-0.21 * std::pow(r.gamma, -1.16) * std::pow(r.alpha, 2.5));
}
double f2_short_chord(const JointRatios& r) {
  if (r.alpha >= 12) return 1;
  return 1 - (1.43 * r.beta - 0.97 * r.beta * r.beta - 0.03) * std::pow(r.gamma, 0.04) *
                 std::exp(-0.71 * std::pow(r.gamma, -1.38) * std::pow(r.alpha, 2.5));
}
double f3_short_chord(const JointRatios& r) {
  if (r.alpha >= 12) return 1;
  return 1 - 0.55 * std::pow(r.beta, 1.8) * std::pow(r.gamma, 0.16) *
                 std::exp(-0.49 * std::pow(r.gamma, -0.89) * std::pow(r.alpha, 1.8));
}

}  // namespace seamwright::joints
