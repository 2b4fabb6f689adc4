// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/joints/xk.h"

#include <algorithm>
#include <cmath>

#include "engine/evidence/constants.h"

namespace seamwright::joints {

namespace {

// Common to eqs 11, 17 and 24: from the chord's saddle to the brace's.
double to_brace(const JointRatios& r) {
  return std::pow(r.tau, -0.54) * std::pow(r.gamma, -0.05) *
         (0.99 - 0.47 * r.beta + 0.08 * std::pow(r.beta, 4));
}

double distance(const JointRatios& r, const KPartner& other) { return 1 + other.zeta * sine(r) / r.beta; }

// The neighbour takes this much of the brace's own saddle stress away.
double gap_ratio(const JointRatios& r, const KPartner& other) {
  return 1 - 0.08 * std::sqrt(other.ratios.beta * r.gamma) * std::exp(-0.8 * distance(r, other));
}

struct Axial {
  double chord_saddle = 0, chord_crown = 0, brace_saddle = 0, brace_crown = 0;
};

Axial x_axial(const JointRatios& r, double fixity) {
  const double f = fixity <= 0.5 ? f1_short_chord(r) : f2_short_chord(r);
  return {eq12_chord_saddle_x(r) * f, eq13_chord_crown_x(r), eq14_brace_saddle_x(r) * f,
          eq15_brace_crown_x(r)};
}

Axial k_axial(const JointRatios& r, const KPartner& other) {
  const double chord = eq20_chord_k(r, other), brace = eq21_brace_k(r, other, other.zeta < 0 ? 1 : 0);
  return {chord, chord, brace, brace};
}

double larger(double a, double b) { return std::max(std::isfinite(a) ? a : 0.0, b); }

Axial larger(const Axial& a, const Axial& b) {
  return {larger(a.chord_saddle, b.chord_saddle), larger(a.chord_crown, b.chord_crown),
          larger(a.brace_saddle, b.brace_saddle), larger(a.brace_crown, b.brace_crown)};
}

void mix(double share, const Axial& a, TyScf& into) {
  into.chord.axial_saddle += share * a.chord_saddle;
  into.chord.axial_crown += share * a.chord_crown;
  into.brace.axial_saddle += share * a.brace_saddle;
  into.brace.axial_crown += share * a.brace_crown;
}

void add_part(TyScf& into, const char* clause, double value) {
  Evidence e;
  e.figure = std::string("scf");
  e.value = value;
  e.source = {"dnv-rp-c203-2016", clause};
  into.evidence.because.push_back(std::move(e));
}

}  // namespace

double eq12_chord_saddle_x(const JointRatios& r) {
  return 3.87 * r.gamma * r.tau * r.beta * (1.10 - std::pow(r.beta, 1.8)) * std::pow(sine(r), 1.7);
}
double eq13_chord_crown_x(const JointRatios& r) { return eq6b_chord_crown_axial_frame(r); }
double eq14_brace_saddle_x(const JointRatios& r) {
  return 1 + 1.9 * r.gamma * std::sqrt(r.tau) * std::pow(r.beta, 0.9) * (1.09 - std::pow(r.beta, 1.7)) *
                 std::pow(sine(r), 2.5);
}
double eq15_brace_crown_x(const JointRatios& r) {
  return 3 + std::pow(r.gamma, 1.2) * (0.12 * std::exp(-4 * r.beta) + 0.011 * r.beta * r.beta - 0.045);
}
double eq16_chord_saddle_x_out(const JointRatios& r) {
  return r.gamma * r.tau * r.beta * (1.56 - 1.34 * std::pow(r.beta, 4)) * std::pow(sine(r), 1.6);
}
double eq17_brace_saddle_x_out(const JointRatios& r) { return to_brace(r) * eq16_chord_saddle_x_out(r); }

double eq20_chord_k(const JointRatios& r, const KPartner& other) {
  const double a = sine(r), b = sine(other.ratios);
  const double betas = std::max(r.beta, other.ratios.beta) / std::min(r.beta, other.ratios.beta);
  return std::pow(r.tau, 0.9) * std::sqrt(r.gamma) * (0.67 - r.beta * r.beta + 1.16 * r.beta) * a *
         std::pow(std::max(a, b) / std::min(a, b), 0.30) * std::pow(betas, 0.30) *
         (1.64 + 0.29 * std::pow(r.beta, -0.38) * std::atan(8 * other.zeta));
}
double eq21_brace_k(const JointRatios& r, const KPartner& other, double overlap) {
  const double both = std::sin((r.angle_deg + other.ratios.angle_deg) * degree);
  return 1 +
         (1.97 - 1.57 * std::pow(r.beta, 0.25)) * std::pow(r.tau, -0.14) * std::pow(sine(r), 0.7) *
             eq20_chord_k(r, other) +
         overlap * std::pow(r.beta, 1.5) * std::sqrt(r.gamma) * std::pow(r.tau, -1.22) *
             std::pow(std::max(0.0, both), 1.8) * (0.131 - 0.084 * std::atan(14 * other.zeta + 4.2 * r.beta));
}
double f4_short_chord(const JointRatios& r) {
  if (r.alpha >= 12) return 1;
  return 1 -
         1.07 * std::pow(r.beta, 1.88) * std::exp(-0.16 * std::pow(r.gamma, -1.06) * std::pow(r.alpha, 2.4));
}
double eq25_chord_saddle_k_one_loaded_out(const JointRatios& r, const KPartner& other) {
  return eq10_chord_saddle_out_of_plane(r) * gap_ratio(r, other);
}
double eq23_chord_saddle_k_out(const JointRatios& r, const KPartner& other) {
  const double x = distance(r, other), widest = std::max(r.beta, other.ratios.beta);
  // The neighbour's own saddle stress, carried over.
  const double carried = eq10_chord_saddle_out_of_plane(other.ratios) *
                         (1 - 0.08 * std::sqrt(r.beta * r.gamma) * std::exp(-0.8 * x)) *
                         (2.05 * std::sqrt(widest) * std::exp(-1.3 * x));
  return (eq25_chord_saddle_k_one_loaded_out(r, other) + carried) * f4_short_chord(r);
}
double eq24_brace_saddle_k_out(const JointRatios& r, const KPartner& other) {
  return to_brace(r) * eq23_chord_saddle_k_out(r, other);
}

TyScf shared_scf(const TyJoint& joint, double fixity, const Shares& shares, const TyJoint* other,
                 double gap_mm) {
  TyScf result = ty_scf(joint, fixity);
  const bool sums = std::abs(shares.y + shares.x + shares.k - 1) < 1e-6;
  if (!sums || shares.y < 0 || shares.x < 0 || shares.k < 0 || (shares.k > 0 && !other))
    throw Fault{Message{"joints.bad-shares",
                        {number("y", shares.y, ""), number("x", shares.x, ""), number("k", shares.k, "")}}};
  if (shares.y == 1 || result.evidence.coverage == Coverage::none) return result;
  const JointRatios r = joint_ratios(joint);
  for (ScfSide* side : {&result.chord, &result.brace}) {
    side->axial_crown *= shares.y;
    side->axial_saddle *= shares.y;
  }
  if (shares.x > 0) {
    mix(shares.x, larger(x_axial(r, fixity), x_axial(limiting(r), fixity)), result);
    add_part(result, "Table B-2, eq. 12, chord saddle, axial, X", eq12_chord_saddle_x(r));
    add_part(result, "Table B-2, eq. 14, brace saddle, axial, X", eq14_brace_saddle_x(r));
  }
  if (shares.k > 0) {
    KPartner partner{joint_ratios(*other), gap_mm / joint.chord_diameter_mm};
    const double widest = std::max(r.beta, partner.ratios.beta);
    const Limit gap = limit("zeta", partner.zeta, "", -0.6 * widest / sine(r), 1);
    result.evidence.limits.push_back(gap);
    if (!gap.inside) result.evidence.coverage = worse_coverage(result.evidence.coverage, Coverage::extended);
    KPartner inside{limiting(partner.ratios), std::clamp(partner.zeta, gap.min, gap.max)};
    mix(shares.k, larger(k_axial(r, partner), k_axial(limiting(r), inside)), result);
    add_part(result, "Table B-3, eq. 20, chord, axial, K", eq20_chord_k(r, partner));
    add_part(result, "Table B-3, eq. 21, brace, axial, K",
             eq21_brace_k(r, partner, partner.zeta < 0 ? 1 : 0));
  }
  for (ScfSide* side : {&result.chord, &result.brace}) {
    side->axial_crown = std::max(1.5, side->axial_crown);
    side->axial_saddle = std::max(1.5, side->axial_saddle);
  }
  result.evidence.inputs.push_back({"share_y", shares.y, ""});
  result.evidence.inputs.push_back({"share_x", shares.x, ""});
  result.evidence.inputs.push_back({"share_k", shares.k, ""});
  return result;
}

}  // namespace seamwright::joints
