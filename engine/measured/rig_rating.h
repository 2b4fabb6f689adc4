// SPDX-License-Identifier: GPL-3.0-or-later
// Rig cases: constant amplitudes on fixed frames, rated with the same sites and curves as the service, and
// put beside it.
#pragma once

#include "engine/rating/rate.h"
#include "engine/sites/sites.h"

namespace seamwright::measured {

/// A test: the steps follow each other, and after the last comes the first.
struct RigCase {
  std::string id;
  double cycles = 0;
  std::vector<frame::Support> fixings;
  std::vector<std::vector<frame::NodeLoad>> steps;
  Source source;
  bool from_memory = false;
  std::string not_applicable;  ///< why the case does not fit this frame; "" = it fits
};

/// Steps of the pedalling test of ISO 4210-6: each pedal in turn, force 7.5 degrees off upright outwards, 150
/// mm beside the middle plane, cranks at 45 degrees, arms 175 mm, the chain held: its pull goes to the rear
/// axle. Geometry from memory.
std::vector<std::vector<frame::NodeLoad>> pedalling_steps(const design::Design& design,
                                                          const loads::Drive& drive, double force_n);
/// A downward force 70 mm behind the saddle node, from nothing to full.
std::vector<std::vector<frame::NodeLoad>> seat_steps(const design::Design& design, double force_n);

struct RigResult {
  std::string id;
  double cycles = 0;
  std::string not_applicable;
  std::string weld, site;  ///< where the rig does most damage
  double damage = 0;    ///< there, in all its cycles, no factor on loads; curves at mean less two deviations
  bool passes = false;  ///< by calculation: no site above 1, and none without a curve
  bool uncovered = false;  ///< a site has no curve
  // Damage without factors is taken at the site that governs the service:
  std::string service_weld, service_site;
  double service_damage = 0, rig_damage_there = 0;
  double equal_cycles = 0;  ///< of the case as it is; infinite when it does not load the site
  double equal_force = 0;   ///< factor on its forces with its number of cycles
  double residual = 0;      ///< of equilibrium
  bool from_memory = false;
};

/// service: the rating of the same job. Throws the Faults of frame::Statics (a frame that its fixings do not
/// hold) and frame::case_load(), and "rating.no-welds".
std::vector<RigResult> rate_rigs(const rating::Job& job, const rules::Published& published,
                                 const std::vector<RigCase>& cases, const rating::Rating& service);

}  // namespace seamwright::measured
