// SPDX-License-Identifier: GPL-3.0-or-later
// Tyres: stiffness from pressure, damping from a ratio.
#pragma once

#include "engine/evidence/evidence.h"

namespace seamwright::loads {

/// Radial stiffness 2 pi p sqrt(R r), N/mm, for p in MPa, wheel radius R and section radius r in mm: contact
/// pressure equals inflation pressure over the ellipse that a plane cuts from the torus. Derived; the tyre's
/// wall bulges aside, so it is an upper bound. Measured on 20 inch bicycle tyres: 31 to 147 N/mm (Rothhamel,
/// Bicycle and Motorcycle Dynamics 2023); outside that the result is extended. Throws Fault
/// "frame.bad-number" for pressures outside 50..1000 kPa or radii outside 50..1000 and 5..100 mm.
struct TyreResult {
  double radial_n_mm = 0;
  Evidence evidence;
};
TyreResult tyre_stiffness(double pressure_kpa, double radius_mm, double section_radius_mm);

/// c = 2 ratio sqrt(k m), N s/m, for k in N/mm and the mass that the tyre carries in kg.
double tyre_damping_n_s_m(double ratio, double radial_n_mm, double carried_kg);

}  // namespace seamwright::loads
