// SPDX-License-Identifier: GPL-3.0-or-later
// The equations become factors that a rating may use: range of validity, limiting parameters, lower bound.
#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/joints/efthymiou.h"

namespace seamwright::joints {

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();
// API RP 2A-WSD 22nd edition and ISO 19902 [from memory].
constexpr double least_scf = 1.5;
// Scope of ISO 14347:2008: circular hollow sections of 4 mm and more.
constexpr double thinnest_wall_mm = 4;

struct Factors {
  double chord_saddle, chord_crown, brace_saddle, brace_crown, chord_in, brace_in, chord_out, brace_out;
};

Factors factors(const JointRatios& r, double fixity) {
  const double axial = fixity <= 0.5 ? f1_short_chord(r) : f2_short_chord(r);
  const double out = f3_short_chord(r);
  return {eq5_chord_saddle_axial(r, fixity) * axial,
          eq6b_chord_crown_axial_frame(r),
          eq3_brace_saddle_axial(r) * axial,
          eq7b_brace_crown_axial_frame(r),
          eq8_chord_crown_in_plane(r),
          eq9_brace_crown_in_plane(r),
          eq10_chord_saddle_out_of_plane(r) * out,
          eq11_brace_saddle_out_of_plane(r) * out};
}

double rated(double actual, double at_limit) {
  return std::max({std::isfinite(actual) ? actual : 0.0, at_limit, least_scf});
}

void require_joint(const TyJoint& j) {
  const auto positive = [](double v) { return std::isfinite(v) && v > 0; };
  if (positive(j.chord_diameter_mm) && positive(j.chord_wall_mm) && positive(j.chord_length_mm) &&
      positive(j.brace_diameter_mm) && positive(j.brace_wall_mm) &&
      2 * j.chord_wall_mm < j.chord_diameter_mm && 2 * j.brace_wall_mm < j.brace_diameter_mm &&
      std::isfinite(j.angle_deg))
    return;
  throw Fault{Message{
      "joints.impossible",
      {number("chord_diameter", j.chord_diameter_mm, "mm"), number("chord_wall", j.chord_wall_mm, "mm"),
       number("brace_diameter", j.brace_diameter_mm, "mm"), number("brace_wall", j.brace_wall_mm, "mm")}}};
}

Evidence clause_evidence(const char* clause, double value) {
  Evidence e;
  e.figure = "scf";
  e.value = value;
  e.source = {"dnv-rp-c203-2016", clause};
  return e;
}

}  // namespace

std::vector<Limit> ty_limits(const JointRatios& r) {
  return {limit("alpha", r.alpha, "", 4, 40), limit("beta", r.beta, "", 0.2, 1.0),
          limit("gamma", r.gamma, "", 8, 32), limit("tau", r.tau, "", 0.2, 1.0),
          limit("angle", r.angle_deg, "deg", 20, 90)};
}

JointRatios limiting(const JointRatios& r) {
  const std::vector<Limit> l = ty_limits(r);
  const auto within = [&](std::size_t i) { return std::clamp(l[i].value, l[i].min, l[i].max); };
  return {within(0), within(1), within(2), within(3), within(4)};
}

TyScf ty_scf(const TyJoint& joint, double fixity) {
  require_joint(joint);
  if (!(fixity >= 0.5 && fixity <= 1.0))
    throw Fault{Message{"joints.bad-fixity", {number("fixity", fixity, "")}}};
  const JointRatios r = joint_ratios(joint);
  TyScf result;
  Evidence& evidence = result.evidence;
  evidence.figure = "scf";
  evidence.source = {"dnv-rp-c203-2016", "Appendix B, Table B-1"};
  evidence.inputs = {{"chord_diameter", joint.chord_diameter_mm, "mm"},
                     {"chord_wall", joint.chord_wall_mm, "mm"},
                     {"chord_length", joint.chord_length_mm, "mm"},
                     {"brace_diameter", joint.brace_diameter_mm, "mm"},
                     {"brace_wall", joint.brace_wall_mm, "mm"},
                     {"angle", joint.angle_deg, "deg"},
                     {"fixity", fixity, ""}};
  evidence.limits = ty_limits(r);
  for (const Limit& l : evidence.limits)
    if (!l.inside)
      evidence.notes.push_back({"joints.outside-range",
                                {text("parameter", l.name), number("value", l.value, l.unit),
                                 number("min", l.min, l.unit), number("max", l.max, l.unit)}});
  evidence.limits.push_back(limit("chord_wall", joint.chord_wall_mm, "mm", thinnest_wall_mm, infinity));
  evidence.limits.push_back(limit("brace_wall", joint.brace_wall_mm, "mm", thinnest_wall_mm, infinity));
  if (joint.chord_wall_mm < thinnest_wall_mm || joint.brace_wall_mm < thinnest_wall_mm)
    evidence.notes.push_back({"joints.thin-wall",
                              {number("wall", std::min(joint.chord_wall_mm, joint.brace_wall_mm), "mm"),
                               number("least", thinnest_wall_mm, "mm")}});
  evidence.coverage = all_inside(evidence.limits) ? Coverage::inside : Coverage::extended;
  if (r.beta > 1 + 1e-9 || !(r.angle_deg > 0 && r.angle_deg <= 90 + 1e-9)) {
    evidence.coverage = Coverage::none;
    evidence.notes.push_back(
        {"joints.no-factor", {number("beta", r.beta, ""), number("angle", r.angle_deg, "deg")}});
    return result;
  }
  const Factors a = factors(r, fixity), l = factors(limiting(r), fixity);
  result.chord = {rated(a.chord_crown, l.chord_crown), rated(a.chord_saddle, l.chord_saddle),
                  rated(a.chord_in, l.chord_in), rated(a.chord_out, l.chord_out)};
  result.brace = {rated(a.brace_crown, l.brace_crown), rated(a.brace_saddle, l.brace_saddle),
                  rated(a.brace_in, l.brace_in), rated(a.brace_out, l.brace_out)};
  evidence.because = {
      clause_evidence("Table B-1, eq. 5, chord saddle, axial", result.chord.axial_saddle),
      clause_evidence("Table B-1, eq. 6b, chord crown, axial", result.chord.axial_crown),
      clause_evidence("Table B-1, eq. 3, brace saddle, axial", result.brace.axial_saddle),
      clause_evidence("Table B-1, eq. 7b, brace crown, axial", result.brace.axial_crown),
      clause_evidence("Table B-1, eq. 8, chord crown, in-plane", result.chord.in_plane),
      clause_evidence("Table B-1, eq. 9, brace crown, in-plane", result.brace.in_plane),
      clause_evidence("Table B-1, eq. 10, chord saddle, out-of-plane", result.chord.out_of_plane),
      clause_evidence("Table B-1, eq. 11, brace saddle, out-of-plane", result.brace.out_of_plane)};
  for (const Evidence& e : evidence.because) evidence.value = std::max(evidence.value, e.value);
  return result;
}

}  // namespace seamwright::joints
