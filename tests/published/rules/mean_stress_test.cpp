// SPDX-License-Identifier: GPL-3.0-or-later
// Credit for compression: EN 1993-1-9, 7.2.1 and IIW 2008, case I of the stress ratio, both from memory; the
// values are independent evaluations.

#include "engine/rules/rule_sets.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using seamwright::outside::Expected;

TEST_CASE("EN 1993-1-9: tension and 0.6 of compression") {
  SOURCE(recalled, "EN 1993-1-9, 7.2.1: tension and 0.6 of compression", "rounding of the arithmetic");
  const rules::EffectiveRange effective = rules::en1993.effective_range;
  CHECK(effective(-80, 100) == Expected(148));
  CHECK(effective(-80, 0) == Expected(48));
  CHECK(effective(20, 100) == Expected(80));
  CHECK(effective(-100, -20) == Expected(48));
  CHECK(effective(0, 100) == Expected(100));
}

TEST_CASE("IIW case I: factor by stress ratio") {
  SOURCE(recalled, "IIW-1823-07 (2008), case I of the stress ratio", "rounding of the arithmetic");
  const auto factor = [](double a, double b) { return (b - a) / rules::iiw.effective_range(a, b); };
  CHECK(factor(-200, 100) == Expected(1.6));
  CHECK(factor(-100, 100) == Expected(1.6));
  CHECK(factor(-50, 100) == Expected(1.4));
  CHECK(factor(0, 100) == Expected(1.2));
  CHECK(factor(50, 100) == Expected(1.0));
  CHECK(factor(51, 100) == Expected(1.0));
  CHECK(factor(-100, -20) == Expected(1.6));
  CHECK(rules::iiw.effective_range(-100, 100) == Expected(200 / 1.6));
}

TEST_CASE("DNV-RP-C203 gives no credit for as-welded joints, and none is taken") {
  OURS;
  CHECK_FALSE(rules::dnv.effective_range);
}
