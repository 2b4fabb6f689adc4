// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/joints/bolt.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace seamwright::joints {

ThreadSize size_of(const Thread& t) {
  const double pitch = t.diameter_mm - 0.6495 * t.pitch_mm, root = t.diameter_mm - 1.2269 * t.pitch_mm;
  if (!(t.pitch_mm > 0 && root > 0 && std::isfinite(t.diameter_mm)))
    throw Fault{Message{"joints.thread",
                        {number("diameter", t.diameter_mm, "mm"), number("pitch", t.pitch_mm, "mm")}}};
  const double mean = 0.5 * (pitch + root);
  return {pitch, root, std::numbers::pi / 4 * mean * mean};
}

TorqueResult tightening_torque(const Tightening& t) {
  const ThreadSize size = size_of(t.thread);
  TorqueResult r;
  r.torque_nmm = t.preload_n * (0.16 * t.thread.pitch_mm + 0.58 * size.pitch_diameter_mm * t.friction_thread +
                                0.5 * t.head_diameter_mm * t.friction_head);
  Evidence& e = r.evidence;
  e.figure = "tightening-torque";
  e.value = r.torque_nmm;
  e.unit = std::string("N mm");
  e.source = {"vdi-2230", "Part 1, tightening torque"};
  e.from_memory = true;
  e.inputs = {{"diameter", t.thread.diameter_mm, "mm"},
              {"pitch", t.thread.pitch_mm, "mm"},
              {"preload", t.preload_n, "N"},
              {"friction_thread", t.friction_thread, ""},
              {"friction_head", t.friction_head, ""},
              {"head_diameter", t.head_diameter_mm, "mm"},
              {"pitch_diameter", size.pitch_diameter_mm, "mm"}};
  e.limits = {limit("friction", std::min(t.friction_thread, t.friction_head), "", 0.04, 0.5)};
  e.coverage = all_inside(e.limits) ? Coverage::inside : Coverage::extended;
  return r;
}

BoltResistance bolt_resistance(const Thread& thread, double ultimate_mpa, bool brittle_in_shear) {
  constexpr double partial = 1.25;
  const double area = size_of(thread).stress_area_mm2, alpha = brittle_in_shear ? 0.5 : 0.6;
  BoltResistance r;
  r.tension_n = 0.9 * ultimate_mpa * area / partial;
  r.shear_n = alpha * ultimate_mpa * area / partial;
  Evidence& e = r.evidence;
  e.figure = "bolt-resistance";
  e.value = r.tension_n;
  e.unit = std::string("N");
  e.source = {"en-1993-1-8", "Table 3.4"};
  e.from_memory = true;
  e.inputs = {{"stress_area", area, "mm2"},
              {"ultimate", ultimate_mpa, "MPa"},
              {"alpha_v", alpha, ""},
              {"partial_factor", partial, ""}};
  return r;
}

double bolt_use(const BoltResistance& r, double tension_n, double shear_n) {
  const double tension = std::max(0.0, tension_n) / r.tension_n, shear = std::abs(shear_n) / r.shear_n;
  return std::max(tension, shear + tension / 1.4);
}

}  // namespace seamwright::joints
