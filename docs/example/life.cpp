// SPDX-License-Identifier: GPL-3.0-or-later
// A tube of 40 x 2 mm bent to and fro by 60 N m: the range in its outer fibre, how often a butt weld around
// it bears that by curve F of the catalog, and the damage of a spectrum.
#include <cstdio>

#include "catalog/figures/figures.h"
#include "catalog/published/published_data.h"
#include "engine/fatigue/curve.h"
#include "engine/frame/section.h"
#include "engine/rules/rule_sets.h"
#include "engine/rules/rule_tables.h"

using namespace seamwright;

int main() {
  const frame::RoundTube tube{40, 2};
  const frame::SectionProperties p = frame::section_properties(tube, 0.3).properties;
  const double range_mpa = 2 * 60e3 / p.w_z_mm3;

  const fatigue::Curve* curve = rules::curve_of(published::catalog().data, rules::dnv, "F", "air");
  if (curve == nullptr) return 1;
  const fatigue::LifeResult life = fatigue::sn_life(*curve, range_mpa, tube.wall_mm);
  std::printf("range %.1f MPa, %.3g cycles by %s, %s\n", range_mpa, life.cycles, curve->source.key.c_str(),
              curve->source.clause.c_str());

  const fatigue::MinerResult miner =
      fatigue::miner(*curve, {{1e6, range_mpa}, {2e6, range_mpa / 2}}, tube.wall_mm);
  std::printf("a million such cycles and two million of half the range: damage %.4f\n", miner.damage);

  const figures::FigureResult named =
      figures::compute("miner", {{"curve", "F"}, {"rules", "dnv"}, {"spectrum", "1000000@40,500000@60"}},
                       published::catalog());
  std::printf("the figure %s by its name: %s %.4f\n", named.figure.c_str(), named.values[0].name.c_str(),
              named.values[0].value);
}

// Worked out by hand: W = pi/4 (r^4 - (r-t)^4) / r = 2161 mm3, 2 * 60 N m / W = 55.54 MPa, 10^11.855 /
// 55.54^3 = 4.18 million; half of it lies below the knee: 10^15.091 / 27.77^5 = 74.7 million, 1/4.18 +
// 2/74.7 = 0.2659. By name: 40 MPa lies below the knee, 60 above: 10^6 * 40^5 / 10^15.091 + 5 * 10^5 *
// 60^3 / 10^11.855 = 0.0830 + 0.1508.
// Prints:
// range 55.5 MPa, 4.18e+06 cycles by dnv-rp-c203-2016, Table 2-1
// a million such cycles and two million of half the range: damage 0.2659
// the figure miner by its name: damage 0.2339
