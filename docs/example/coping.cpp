// SPDX-License-Identifier: GPL-3.0-or-later
// A tube of 30 x 2 mm stands square on one of 60 x 2 mm: how its end is cut, how long the root of its weld is, what two
// walls and a torch ask for, and what is bought for it.
#include <cstdio>
#include <numbers>

#include "engine/design/design.h"
#include "engine/shape/checks.h"
#include "engine/shape/clash.h"
#include "engine/shape/cope.h"
#include "engine/shape/cut_list.h"
#include "engine/shape/fixture.h"
#include "engine/shape/plan.h"
#include "engine/shape/quadrature.h"
#include "engine/shape/root_curve.h"

using namespace seamwright;

int main() {
  design::Design d;
  frame::Frame& f = d.frame;
  f.materials = {{"steel", 205000, 0.3, 7850}};
  f.tubes = {{"60x2", frame::RoundTube{60, 2}, "steel"}, {"30x2", frame::RoundTube{30, 2}, "steel"}};
  f.nodes = {{"west", {-300, 0, 0}}, {"middle", {0, 0, 0}}, {"east", {300, 0, 0}}, {"top", {0, 0, 200}}};
  frame::Member chord, brace;
  chord.id = "chord";
  chord.tube = "60x2";
  chord.nodes = {"west", "middle", "east"};
  brace.id = "brace";
  brace.tube = "30x2";
  brace.nodes = {"middle", "top"};
  f.members = {chord, brace};
  joints::Weld weld;
  weld.id = "W1";
  weld.member = "brace";
  weld.chord = "chord";
  weld.node = "middle";
  weld.throat_mm = 2;
  d.welds = {weld};

  shape::check_clashes(f, d.welds);
  const shape::Plan plan = shape::plan_of(d);
  const std::vector<shape::Blank> blanks = shape::blanks_of(d, plan);
  for (const shape::Blank& b : blanks)
    std::printf("%s: %.2f mm off the stock, %.1f cm3\n", b.member.c_str(), b.blank_mm,
                shape::quadrature(plan.parts[&b - blanks.data()])->volume_mm3 / 1000);
  const shape::TubeEnd& foot = blanks[1].start;
  const shape::CutPlace saddle = *shape::cut_place(foot, *foot.crown_rad + std::numbers::pi / 2);
  std::printf("cut at the saddle %.2f mm from the node, where the outer edge would stand at %.2f mm: gap %.2f mm\n", saddle.cut_mm,
              saddle.outer_mm, saddle.gap_along_mm);

  const shape::TubePair pair{{0, 0, 0}, {0, 0, 1}, {1, 0, 0}, {0, 0, 0}, {1, 0, 0}, 15, 30};
  const shape::Dihedrals walls = shape::dihedrals(pair);
  std::printf("root %.2f mm, between the walls %.1f to %.1f degrees, findings: %zu\n", *shape::root_length_mm(pair), walls.least_deg,
              walls.most_deg, shape::weld_findings(d).size());

  const shape::CutList list = shape::cut_list(blanks, 500, 2);
  for (const shape::StockTube& t : list.tubes)
    std::printf("%s: bars of 500 mm: %zu, too long: %zu\n", t.section.index() == 0 ? "round tube" : "other", t.bars.size(), t.too_long.size());
  const std::vector<shape::Weldment> weldments = shape::weldments_of(d, plan);
  std::printf("weldments: %zu, the table %.0f mm below the origin\n", weldments.size(), -weldments[0].table_mm);
}

// Worked out by hand: the outer edge stands at sqrt(30^2 - 15^2), the inner at sqrt(30^2 - 13^2), where the cut is; the chord is
// pi / 4 (60^2 - 56^2) 600, the brace the integral of r (2 pi 200 - 4 * 30 E(r^2 / 30^2)) from 13 to 15, E the complete elliptic
// integral; the root that of sqrt(15^2 + z'^2) over the angle with z = sqrt(30^2 - 15^2 sin^2); the walls 90 degrees and asin(15 / 30).
// Prints:
// chord: 600.00 mm off the stock, 218.7 cm3
// brace: 174.02 mm off the stock, 30.2 cm3
// cut at the saddle 27.04 mm from the node, where the outer edge would stand at 25.98 mm: gap 1.06 mm
// root 95.92 mm, between the walls 90.0 to 120.0 degrees, findings: 0
// round tube: bars of 500 mm: 0, too long: 1
// round tube: bars of 500 mm: 1, too long: 0
// weldments: 1, the table 30 mm below the origin
