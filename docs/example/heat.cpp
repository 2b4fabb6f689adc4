// SPDX-License-Identifier: GPL-3.0-or-later
// TIG on tube of 25CrMo4: how hardenable the steel is, heat input, how fast the zone beside the weld cools,
// and how hard it becomes.
#include <cstdio>

#include "engine/procedure/carbon.h"
#include "engine/procedure/hardness.h"
#include "engine/procedure/heat.h"

using namespace seamwright;

int main() {
  const procedure::Chemistry steel{.c = 0.25, .si = 0.25, .mn = 0.75, .cr = 1.05, .mo = 0.22};
  std::printf("CE %.4f, CET %.4f\n", procedure::ce_iiw(steel).value, procedure::cet(steel).value);

  const procedure::HeatInput heat = procedure::heat_input("141", 11, 60, 1.5);
  std::printf("%.3f kJ/mm of arc, %.3f of it into the weld\n", heat.energy_kj_mm, heat.heat_kj_mm);
  const procedure::Cooling cooling =
      procedure::cooling_time(heat.heat_kj_mm, 20, 2, procedure::shape_factors("fillet-tee"));
  std::printf("from 800 to 500 degrees in %.1f s\n", cooling.seconds);

  const procedure::Hardness hardness = procedure::peak_hardness(steel, cooling.seconds);
  const auto allowed = procedure::hardness_limit("5.1", false);
  std::printf("HV10 %.0f, %s\n", hardness.highest,
              !allowed                       ? "to be agreed"
              : hardness.highest <= *allowed ? "allowed"
                                             : "more than is allowed");
}

// Worked out by hand: 0.25 + 0.75/6 + 1.27/5; 0.25 + 0.97/10 + 1.05/20; 11 V * 60 A / 1.5 mm/s, 0.6 of
// it; 4214e5 (0.264/2)^2 (1/480^2 - 1/780^2) * 0.45. The hardness by tests/published/formulas; group 5 as
// welded: 380.
// Prints:
// CE 0.6290, CET 0.3995
// 0.440 kJ/mm of arc, 0.264 of it into the weld
// from 800 to 500 degrees in 8.9 s
// HV10 501, more than is allowed
