// SPDX-License-Identifier: GPL-3.0-or-later
// The stress on a surface is read near a toe and drawn on to the toe: values evaluated apart from the
// program, of rules that are remembered.
#include <cmath>

#include "engine/rules/rule_sets.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using seamwright::outside::Expected;

namespace {

// A brace of 32 x 1.5 on a chord of 40 x 2.
rules::Toe toe_at(rules::ToePlace place) { return {place, 16, 1.5, 20, 2}; }

}  // namespace

TEST_CASE("DNV: points near a tubular joint") {
  SOURCE(recalled,
         "DNV-RP-C203 (2016), extrapolation at tubular joints: 0.2 and 0.65 sqrt(rt), 0.4 (rtRT)^1/4, 5 deg",
         "three digits were evaluated");
  struct Row {
    rules::ToePlace place;
    double second_mm, first_weight;
  };
  for (const Row& r :
       {Row{rules::ToePlace::brace, 3.184, 1.4444}, Row{rules::ToePlace::chord_crown, 2.227, 1.7859},
        Row{rules::ToePlace::chord_saddle, 1.745, 2.2799}}) {
    const auto points = rules::dnv.hot_spot.read_out(toe_at(r.place));
    REQUIRE(points.size() == 2);
    CHECK(points[0].distance_mm == Expected(0.980).epsilon(1e-3));
    CHECK(points[1].distance_mm == Expected(r.second_mm).epsilon(1e-3));
    CHECK(points[0].weight == Expected(r.first_weight).epsilon(1e-4));
  }
}

TEST_CASE("IIW: points on the surface of a plate, read for EN 1993-1-9 as well") {
  SOURCE(recalled, "IIW-1823-07 (2008), 2.2.3.4, type a, fine mesh: 1.67 at 0.4 t, -0.67 at 1.0 t", "exact");
  for (const rules::RuleSet* set : {&rules::iiw, &rules::en1993}) {
    for (const auto& [place, wall] : {std::pair{rules::ToePlace::brace, 1.5},
                                      {rules::ToePlace::chord_crown, 2.0},
                                      {rules::ToePlace::chord_saddle, 2.0}}) {
      const auto points = set->hot_spot.read_out(toe_at(place));
      REQUIRE(points.size() == 2);
      CHECK(points[0].distance_mm == Expected(0.4 * wall));
      CHECK(points[1].distance_mm == Expected(wall));
      CHECK(points[0].weight == 1.67);
      CHECK(points[1].weight == -0.67);
    }
  }
}

TEST_CASE("a stress that is a straight line from the toe is read at the toe as it is") {
  SOURCE(closed_form, "a line through its own points", "the weights are printed with two decimals");
  const auto stress = [](double distance_mm) { return 100 - 7 * distance_mm; };
  for (const rules::RuleSet* set : rules::rule_sets)
    for (const auto place :
         {rules::ToePlace::brace, rules::ToePlace::chord_crown, rules::ToePlace::chord_saddle}) {
      INFO(name_of(set));
      double at_toe = 0;
      for (const rules::ReadOut& p : set->hot_spot.read_out(toe_at(place)))
        at_toe += p.weight * stress(p.distance_mm);
      CHECK(at_toe == Expected(100).epsilon(1e-3));
    }
}
