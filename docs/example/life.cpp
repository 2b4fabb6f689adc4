// SPDX-License-Identifier: GPL-3.0-or-later
// A tube of 40 x 2 mm bent to and fro by 60 N m: the range in its outer fibre, and how often a butt weld around
// it bears that. Curve F of DNVGL-RP-C203 (April 2016), table 2-1, in air.
#include <cmath>
#include <cstdio>

#include "engine/fatigue/curve.h"
#include "engine/frame/section.h"

using namespace seamwright;

int main() {
  const frame::RoundTube tube{40, 2};
  const frame::SectionProperties p = frame::section_properties(tube, 0.3).properties;
  const double range_mpa = 2 * 60e3 / p.w_z_mm3;

  fatigue::Curve curve;
  curve.id = "F";
  curve.set = "dnv";
  curve.segments = {{3, 11.855, 1e7}, {5, 15.091, INFINITY}};
  curve.reference_thickness_mm = 25;
  curve.thickness_exponent = 0.25;
  curve.source = {"dnv-rp-c203-2016", "Table 2-1"};

  const fatigue::LifeResult life = fatigue::sn_life(curve, range_mpa, tube.wall_mm);
  std::printf("range %.1f MPa, %.3g cycles\n", range_mpa, life.cycles);
  return life.cycles > 0 ? 0 : 1;
}
