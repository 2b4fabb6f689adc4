// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/joints/flexibility.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/evidence/constants.h"

namespace seamwright::joints {

JointFlexibility joint_flexibility(const TyJoint& joint, double youngs_mpa) {
  const JointRatios r = joint_ratios(joint);
  const double sine = std::sin(r.angle_deg * degree), d = joint.chord_diameter_mm;
  const double ed = youngs_mpa * d, ed3 = ed * d * d;
  JointFlexibility f;
  f.axial =
      1.95 * std::pow(r.gamma, 2.15) * std::pow(std::max(0.0, 1 - r.beta), 1.3) * std::pow(sine, 2.19) / ed;
  f.in_plane = 134 * std::pow(r.gamma, 1.73) * std::exp(-4.52 * r.beta) * std::pow(sine, 1.22) / ed3;
  f.out_of_plane = 85.5 * std::pow(r.gamma, 2.2) * std::exp(-3.85 * r.beta) * std::pow(sine, 2.16) / ed3;
  Evidence& e = f.evidence;
  e.figure = std::string("joint-flexibility");
  e.value = f.axial;
  e.unit = std::string("mm/N");
  e.source = {"fessler-1986", "T and Y joints"};
  e.from_memory = true;
  e.inputs = {{"in_plane", f.in_plane, "rad/(N mm)"}, {"out_of_plane", f.out_of_plane, "rad/(N mm)"}};
  e.limits = {limit("beta", r.beta, "", 0.33, 0.76), limit("gamma", r.gamma, "", 10, 20),
              limit("angle", r.angle_deg, "deg", 35, 90)};
  if (!all_inside(e.limits)) e.coverage = Coverage::extended;
  return f;
}

}  // namespace seamwright::joints
