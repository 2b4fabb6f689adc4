// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/tyre.h"

#include <cmath>
#include <numbers>

#include "engine/frame/check.h"

namespace seamwright::loads {

TyreResult tyre_stiffness(double pressure_kpa, double radius_mm, double section_radius_mm) {
  frame::check_number("pressure_kpa", "tyre", pressure_kpa, "kPa", 50, 1000);
  frame::check_number("radius_mm", "tyre", radius_mm, "mm", 50, 1000);
  frame::check_number("section_radius_mm", "tyre", section_radius_mm, "mm", 5, 100);
  TyreResult r;
  r.radial_n_mm = 2 * std::numbers::pi * pressure_kpa / 1000 * std::sqrt(radius_mm * section_radius_mm);
  Evidence& e = r.evidence;
  e.figure = std::string("tyre-stiffness");
  e.value = r.radial_n_mm;
  e.unit = std::string("N/mm");
  e.source = {"rothhamel-2023", "range measured; formula derived from the contact's ellipse"};
  e.inputs = {{"pressure", pressure_kpa, "kPa"},
              {"radius", radius_mm, "mm"},
              {"section_radius", section_radius_mm, "mm"}};
  e.limits = {limit("radial_stiffness", r.radial_n_mm, "N/mm", 31, 147)};
  e.coverage = all_inside(e.limits) ? Coverage::inside : Coverage::extended;
  e.notes.push_back({"loads.tyre-bound", {}});
  return r;
}

double tyre_damping_n_s_m(double ratio, double radial_n_mm, double carried_kg) {
  frame::check_number("damping_ratio", "tyre", ratio, "", 0, 1);
  return 2 * ratio * std::sqrt(1000 * radial_n_mm * carried_kg);
}

}  // namespace seamwright::loads
