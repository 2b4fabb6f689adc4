// SPDX-License-Identifier: GPL-3.0-or-later
// Bolts: thread, preload and what its tightening takes.
#pragma once

#include "engine/evidence/evidence.h"

namespace seamwright::joints {

struct Thread {
  double diameter_mm = 0, pitch_mm = 0;
};
/// Pitch diameter d - 0.6495 P and root diameter d - 1.2269 P (ISO 724), stress area pi/4 ((d2 + d3)/2)^2
/// (ISO 898-1). Throws Fault "joints.thread" where they are not positive.
struct ThreadSize {
  double pitch_diameter_mm = 0, root_diameter_mm = 0, stress_area_mm2 = 0;
};
ThreadSize size_of(const Thread& thread);

/// Torque that tightens a bolt to a preload, N mm: F (0.16 P + 0.58 d2 mu_thread + Dkm/2 mu_head). Source:
/// VDI 2230 Part 1 [from memory]; derived from the wedge of the thread's flank, 30 degrees. Dkm: mean
/// friction diameter under the head.
struct Tightening {
  Thread thread;
  double preload_n = 0, friction_thread = 0, friction_head = 0, head_diameter_mm = 0;
};
struct TorqueResult {
  double torque_nmm = 0;
  Evidence evidence;
};
TorqueResult tightening_torque(const Tightening& t);

/// Tension resistance 0.9 fub As / gM2, shear resistance alpha fub As / gM2 (thread in the shear plane; alpha
/// 0.6 for 4.6, 5.6, 8.8, else 0.5), gM2 1.25. EN 1993-1-8:2005 Table 3.4 [from memory]. Use of both
/// together: Fv/FvRd
/// + Ft/(1.4 FtRd). N.
struct BoltResistance {
  double tension_n = 0, shear_n = 0;
  Evidence evidence;
};
BoltResistance bolt_resistance(const Thread& thread, double ultimate_mpa, bool brittle_in_shear);
double bolt_use(const BoltResistance& resistance, double tension_n, double shear_n);

}  // namespace seamwright::joints
