// SPDX-License-Identifier: GPL-3.0-or-later
// Arc energy, heat input, and how fast the heat-affected zone cools.
#pragma once

#include <string>

#include "engine/evidence/evidence.h"

namespace seamwright::procedure {

/// Thermal efficiency of a process by its ISO 4063 number: EN 1011-1:2009, Table 1; 114, 132, 133, 138 from
/// memory. Coverage none for other processes.
struct Efficiency {
  double k = 0;
  Evidence evidence;
};
Efficiency thermal_efficiency(const std::string& process);

/// kJ/mm from V, A and mm/s, or from the mean instantaneous power in W (pulsed current: ISO/TR 18491:2015,
/// from memory; the product of mean voltage and mean current is not it). heat = k energy. Throws Fault
/// "procedure.bad-number" unless all are positive and finite.
struct HeatInput {
  double energy_kj_mm = 0, heat_kj_mm = 0;
  Evidence evidence;
};
HeatInput heat_input(const std::string& process, double volts, double amperes, double speed_mm_s);
HeatInput heat_input_of_power(const std::string& process, double watts, double speed_mm_s);

/// Shape factors of a weld, EN 1011-2 Annex D and SEW 088: of ranges the end that cools fastest (for
/// hardness).
struct ShapeFactors {
  double f2 = 1, f3 = 1;
};
/// "bead", "butt", "fillet-tee", "fillet-corner", "fillet-lap". Throws Fault "procedure.unknown-shape".
ShapeFactors shape_factors(const std::string& shape);

/// Time from 800 to 500 degrees C, s, EN 1011-2 Annex D: the larger of flow in the plane and in depth. heat
/// in kJ/mm with its k, start temperature in degrees C below 300, thickness in mm. Throws
/// "procedure.bad-number".
struct Cooling {
  double seconds = 0, in_plane_s = 0, in_depth_s = 0, transition_mm = 0;
  Evidence evidence;
};
Cooling cooling_time(double heat_kj_mm, double start_c, double thickness_mm, const ShapeFactors& shape);
/// Heat input with which flow in the plane takes so long, kJ/mm.
double heat_for_cooling(double seconds, double start_c, double thickness_mm, double f2);

/// Scale of diffusible hydrogen, ml/100 g: 'A' above 15 ... 'E' up to 3 (EN 1011-2, Table C.2).
char hydrogen_scale(double ml_per_100_g);

/// Preheat by the CET method, EN 1011-2, C.8. Outside CET 0.20..0.50 %, thickness 10..90 mm, hydrogen 1..20
/// ml/100 g, heat 0.5..4.0 kJ/mm and yield up to 1000 MPa the value is withheld: coverage none, celsius NaN.
struct Preheat {
  double celsius = 0;
  double of_cet = 0, of_thickness = 0, of_hydrogen = 0, of_heat = 0;  ///< parts C.3 to C.6
  Evidence evidence;
};
Preheat preheat_cet(double cet_percent, double thickness_mm, double hydrogen_ml, double heat_kj_mm,
                    double yield_mpa);

}  // namespace seamwright::procedure
