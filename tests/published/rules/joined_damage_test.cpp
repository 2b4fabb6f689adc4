// SPDX-License-Identifier: GPL-3.0-or-later
// Direct stress and shear at one point, and the place of the curves below their mean: values evaluated apart
// from the program, of formulas that are remembered.
#include "engine/rules/rule_sets.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using seamwright::outside::Expected;

TEST_CASE("EN 1993-1-9: damages of direct stress and of shear add") {
  SOURCE(recalled, "EN 1993-1-9, 8(3)", "rounding of the arithmetic");
  CHECK(rules::en1993.joined_damage({0.1, 0.05, 100, 1, 1}) == Expected(0.15));
  CHECK(rules::en1993.throat.along == 0);
}

TEST_CASE("IIW: squares of the uses of strength, as a damage of slope 3") {
  SOURCE(recalled, "IIW-1823-07 (2008), combined direct and shear stress: squares add to at most 0.5",
         "six digits were evaluated");
  CHECK(rules::iiw.joined_damage({0.1, 0.05, 100, 100, 0.2}) == Expected(0.747622));
  CHECK(rules::iiw.joined_damage({0.02, 0.3, 100, 100, 1}) == Expected(1.62636));
  CHECK(rules::iiw.joined_damage({0.9, 1e-6, 100, 100, 1}) == Expected(2.56191));
  CHECK(rules::iiw.throat.along == 0);
}

TEST_CASE("IIW: shear below 15 % of the direct stress is left out") {
  SOURCE(recalled, "IIW-1823-07 (2008), combined direct and shear stress", "exact");
  CHECK(rules::iiw.joined_damage({0.1, 0.05, 100, 14.99, 0.2}) == 0.1);
  CHECK(rules::iiw.joined_damage({0.1, 0.05, 100, 15.01, 0.2}) > 0.7);
}

TEST_CASE("DNV: a fifth of the square along the throat is in the one stress already") {
  SOURCE(recalled, "DNV-RP-C203 (2016), 2.3.5", "exact");
  CHECK(rules::dnv.throat.along == 0.2);
  CHECK(rules::dnv.joined_damage({0.1, 0.05, 100, 100, 1}) == 0.1);
}

TEST_CASE("curves lie two deviations below their mean, those of EN at 95 % of survival") {
  SOURCE(recalled, "DNV-RP-C203 2.4.1 and IIW-1823-07 (2008) 3.2: mean minus two; EN 1993-1-9, 7.1: 95 %",
         "three decimals of the normal distribution");
  CHECK(rules::dnv.below_mean == 2);
  CHECK(rules::iiw.below_mean == 2);
  CHECK(rules::en1993.below_mean == Expected(1.645).margin(5e-4));
}
