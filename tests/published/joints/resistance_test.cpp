// SPDX-License-Identifier: GPL-3.0-or-later
// Static resistance of tube joints and welds. The values of the joints are independent evaluations (a script
// of its own) of EN 1993-1-8:2005, Tables 7.2 and 7.5 [formulas partly from memory]; no printed example was
// to be had.
#include <cmath>
#include <limits>

#include "engine/joints/resistance.h"
#include "engine/joints/weld_strength.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::joints;
using seamwright::outside::Expected;

namespace {
TubeJoint joint(Pattern pattern, double d0, double t0, double d1, double t1, double angle, double yield) {
  TubeJoint j;
  j.pattern = pattern;
  j.chord_diameter_mm = d0;
  j.chord_wall_mm = t0;
  j.brace_diameter_mm = d1;
  j.brace_wall_mm = t1;
  j.angle_deg = angle;
  j.chord_yield_mpa = yield;
  return j;
}
}  // namespace

TEST_CASE("T joint: face, punching and moments") {
  SOURCE(recalled, "EN 1993-1-8:2005, Tables 7.2 and 7.5, evaluated apart", "five digits were evaluated");
  const auto r = tube_joint_resistance(joint(Pattern::t_or_y, 60, 3, 40, 3, 90, 235));
  CHECK(r.axial_n == Expected(30541).epsilon(1e-4));
  CHECK(r.punching_axial_n == Expected(51149).epsilon(1e-4));
  CHECK(r.in_plane_nmm == Expected(651250).epsilon(1e-4));  // punching; the face alone 865010
  CHECK(r.out_of_plane_nmm == Expected(496570).epsilon(1e-4));
  CHECK(r.evidence.coverage == Coverage::inside);
}

TEST_CASE("Y joint on a compressed chord") {
  SOURCE(recalled, "EN 1993-1-8:2005, Tables 7.2 and 7.5, evaluated apart", "digits of the evaluation");
  TubeJoint j = joint(Pattern::t_or_y, 88.9, 4, 48.3, 4, 45, 355);
  j.chord_stress_ratio = 0.4;
  const auto r = tube_joint_resistance(j);
  CHECK(r.axial_n == Expected(75635).epsilon(1e-4));
  CHECK(r.punching_axial_n == Expected(212366).epsilon(1e-4));
  CHECK(r.in_plane_nmm == Expected(2835480).epsilon(1e-3));
  j.chord_stress_ratio = -0.4;  // tension does not count
  CHECK(tube_joint_resistance(j).axial_n == Expected(75635 / 0.832).epsilon(1e-3));
}

TEST_CASE("X joint of a strong steel, and K joint with a gap") {
  SOURCE(recalled, "EN 1993-1-8:2005, Table 7.2, evaluated apart", "digits of the evaluation");
  CHECK(tube_joint_resistance(joint(Pattern::x, 60, 3, 40, 3, 90, 460)).axial_n ==
        Expected(42120).epsilon(1e-3));
  TubeJoint k = joint(Pattern::k_gap, 88.9, 4, 48.3, 4, 45, 355);
  k.gap_mm = 15;
  CHECK(tube_joint_resistance(k).axial_n == Expected(110586).epsilon(1e-3));
}

TEST_CASE("interaction, and what punching leaves out") {
  SOURCE(recalled, "EN 1993-1-8:2005, interaction of tube joints", "rounding of the arithmetic");
  TubeJointResistance r;
  r.axial_n = 1000;
  r.in_plane_nmm = 500;
  r.out_of_plane_nmm = 200;
  CHECK(tube_joint_use(r, -300, 250, -40) == Expected(0.3 + 0.25 + 0.2));
  CHECK(std::isinf(tube_joint_resistance(joint(Pattern::t_or_y, 60, 3, 54.1, 3, 90, 235)).punching_axial_n));
  CHECK_FALSE(
      std::isinf(tube_joint_resistance(joint(Pattern::t_or_y, 60, 3, 53.9, 3, 90, 235)).punching_axial_n));
}

TEST_CASE("0.9 begins above 355 MPa, and each limit of the table has two sides") {
  SOURCE(recalled, "EN 1993-1-8:2005, Table 7.1 and the factor 0.9", "both sides of each limit");
  const double low = tube_joint_resistance(joint(Pattern::t_or_y, 60, 3, 40, 3, 90, 355)).axial_n;
  CHECK(tube_joint_resistance(joint(Pattern::t_or_y, 60, 3, 40, 3, 90, 355.1)).axial_n ==
        Expected(0.9 * low * 355.1 / 355).epsilon(1e-6));
  const auto coverage = [](Pattern p, double d0, double t0, double d1, double t1, double angle,
                           double yield) {
    return tube_joint_resistance(joint(p, d0, t0, d1, t1, angle, yield)).evidence.coverage;
  };
  CHECK(coverage(Pattern::t_or_y, 125, 2.5, 40, 3, 90, 235) == Coverage::inside);
  CHECK(coverage(Pattern::t_or_y, 125.2, 2.5, 40, 3, 90, 235) == Coverage::extended);
  CHECK(coverage(Pattern::x, 100, 2.5, 40, 3, 90, 235) == Coverage::inside);
  CHECK(coverage(Pattern::x, 100.2, 2.5, 40, 3, 90, 235) == Coverage::extended);
  CHECK(coverage(Pattern::t_or_y, 60, 2.4, 40, 3, 90, 235) == Coverage::extended);
  CHECK(coverage(Pattern::t_or_y, 60, 3, 40, 2.4, 90, 235) == Coverage::extended);
  CHECK(coverage(Pattern::t_or_y, 60, 3, 40, 3, 29.9, 235) == Coverage::extended);
  CHECK(coverage(Pattern::t_or_y, 60, 3, 40, 3, 90, 461) == Coverage::extended);
  CHECK(coverage(Pattern::t_or_y, 201, 10, 40, 3, 90, 235) == Coverage::extended);
  for (const TubeJoint& j :
       {joint(Pattern::t_or_y, 40, 3, 60, 3, 90, 235), joint(Pattern::x, 60, 3, 40, 3, 0, 235),
        joint(Pattern::x, 60, 3, 40, 3, 90, 0), joint(Pattern::x, 60, 31, 40, 3, 90, 235)})
    CHECK_THROWS_AS(tube_joint_resistance(j), Fault);
}

TEST_CASE("welds: directional and simplified method by hand") {
  SOURCE(evaluated, "EN 1993-1-8:2005, 4.5.3", "digits of the evaluation");
  // S355, fu 510, beta_w 0.9: fvw,d 261.73; sigma = tau = 100, tau' = 80: 243.31 against 453.33 (computed).
  const WeldMaterial m{510, 0.9};
  const WeldUse u = weld_use({100, 100, 80}, m);
  CHECK(u.directional == Expected(243.31 / 453.33).epsilon(1e-4));
  CHECK(u.simplified == Expected(std::sqrt(100.0 * 100 + 100 * 100 + 80 * 80) / 261.73).epsilon(1e-4));
  CHECK(weld_use({400, 0, 0}, {510, 0.8}).directional == Expected(400 * 1.25 / (0.9 * 510)).epsilon(1e-9));
  const ThroatStress s = throat_of(200, 30, 2);
  CHECK(s.sigma_perpendicular_mpa == Expected(70.7107).epsilon(1e-5));
  CHECK(s.tau_parallel_mpa == 15);
}

TEST_CASE("throat of a one-sided fillet as strong as its wall") {
  SOURCE(recalled, "CIDECT Design Guide 1: full-strength throat ratios",
         "half the last printed digit and rounding of fu");
  // CIDECT Design Guide 1 prints 0.92, 0.96, 1.10, 1.42, 1.48 for S235 to S460 [from memory].
  const double rows[][4] = {{235, 360, 0.8, 0.92},
                            {275, 430, 0.85, 0.96},
                            {355, 510, 0.9, 1.10},
                            {420, 520, 1.0, 1.42},
                            {460, 550, 1.0, 1.48}};
  for (const auto& r : rows)
    CHECK(full_strength_throat_ratio(r[0], {r[1], r[2]}) == Expected(r[3]).margin(0.011));
}
