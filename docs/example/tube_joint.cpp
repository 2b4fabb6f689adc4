// SPDX-License-Identifier: GPL-3.0-or-later
// A tube of 30 x 1.5 mm welded at 60 degrees onto one of 60 x 3 mm: stress concentration and stress around
// the weld, its throat, what the joint carries and how far its wall gives way; a bolt and a hole beside it.
#include <cstdio>

#include "engine/joints/bolt.h"
#include "engine/joints/efthymiou.h"
#include "engine/joints/flexibility.h"
#include "engine/joints/hot_spot.h"
#include "engine/joints/notch.h"
#include "engine/joints/resistance.h"
#include "engine/joints/throat.h"
#include "engine/joints/weld_strength.h"

using namespace seamwright;

int main() {
  const joints::TyJoint joint{60, 3, 600, 30, 1.5, 60};
  const joints::TyScf scf = joints::ty_scf(joint, 0.7);
  std::printf("factors of the chord: crown %.3f, saddle %.3f, in plane %.3f, out of plane %.3f\n",
              scf.chord.axial_crown, scf.chord.axial_saddle, scf.chord.in_plane, scf.chord.out_of_plane);
  const joints::HotSpotResult hot = joints::hot_spot(scf, true, {20, 5, -10});
  for (std::size_t i = 0; i < hot.points_mpa.size(); ++i)
    std::printf("%s%g: %.1f", i == 0 ? "MPa around the weld: " : ", ", joints::point_angles_deg[i],
                hot.points_mpa[i]);
  std::printf("\nthe source reaches it: %s\n", name_of(hot.evidence.coverage));

  const joints::ThroatResult throat = joints::throat_stress_dnv({90, 30}, 1.5);
  const joints::WeldUse use = joints::weld_use(joints::throat_of(90, 30, 1.5), {560, 1});
  std::printf("throat: range %.2f MPa; once: %.1f %% of its strength\n", throat.range_mpa,
              100 * use.directional);

  joints::TubeJoint strength{.chord_diameter_mm = 60,
                             .chord_wall_mm = 3,
                             .brace_diameter_mm = 30,
                             .brace_wall_mm = 1.5,
                             .angle_deg = 60,
                             .chord_yield_mpa = 460};
  std::printf("the joint carries %.2f kN along the brace\n",
              joints::tube_joint_resistance(strength).axial_n / 1000);
  std::printf("its wall gives way by %.4f mm per kN\n",
              1000 * joints::joint_flexibility(joint, 205000).axial);

  const joints::TorqueResult torque = joints::tightening_torque({{8, 1.25}, 15000, 0.12, 0.12, 11});
  std::printf("M8 to 15 kN: %.1f N m on %.1f mm2\n", torque.torque_nmm / 1000,
              joints::size_of({8, 1.25}).stress_area_mm2);
  std::printf("beside a small hole: %g times the stress along the tube\n", joints::hole_edge_factors(90)[0]);
}

// Worked out by hand from Table B-1 with beta 0.5, gamma 10, tau 0.5, alpha 20: saddle (5) 4.109 + 0.325,
// crown (6b) 2.189 - 0.650, in plane (8) and out of plane (10); at 0 degrees 20 * 1.540 + 5 * 1.662, at
// 90 degrees 20 * 4.434 + 10 * 3.116. Throat: 90 / (1.5 sqrt 2) = 42.43 both ways and 20 along, sqrt(2 *
// 42.43^2 + 0.2 * 20^2); once sqrt(42.43^2 + 3 (42.43^2 + 20^2)) of 560/1.25. The joint: 0.9 * 10^0.2 *
// 460 * 3^2 (2.8 + 14.2 * 0.5^2) / sin 60. The wall: 1.95 * 10^2.15 * 0.5^1.3 * sin^2.19 60 / (205000 *
// 60). The bolt: 15 kN (0.16 * 1.25 + 0.58 * 7.188 * 0.12 + 5.5 * 0.12) mm.
// Prints:
// factors of the chord: crown 1.540, saddle 4.434, in plane 1.662, out of plane 3.116
// MPa around the weld: 0: 39.1, 45: 87.6, 90: 119.8, 135: 75.9, 180: 22.5, 225: 31.8, 270: 57.5, 315: 43.6
// the source reaches it: extended
// throat: range 60.66 MPa; once: 20.5 % of its strength
// the joint carries 43.30 kN along the brace
// its wall gives way by 0.0066 mm per kN
// M8 to 15 kN: 20.4 N m on 36.6 mm2
// beside a small hole: 3 times the stress along the tube
