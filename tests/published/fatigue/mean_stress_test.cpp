// SPDX-License-Identifier: GPL-3.0-or-later
// Credit for compression: EN 1993-1-9, 7.2.1 and IIW 2008, case I of the stress ratio, both from memory; the
// values are independent evaluations.

#include "engine/fatigue/mean_stress.h"
#include "tests/published/outside/outside.h"

using namespace seamwright::fatigue;
using seamwright::outside::Expected;

TEST_CASE("EN 1993-1-9: tension and 0.6 of compression") {
  SOURCE(recalled, "EN 1993-1-9, 7.2.1: tension and 0.6 of compression", "rounding of the arithmetic");
  const auto effective = [](double a, double b) { return effective_range(MeanStress::en1993, a, b); };
  CHECK(effective(-80, 100) == Expected(148));
  CHECK(effective(-80, 0) == Expected(48));
  CHECK(effective(20, 100) == Expected(80));
  CHECK(effective(-100, -20) == Expected(48));
  CHECK(effective(0, 100) == Expected(100));
}

TEST_CASE("IIW case I: factor by stress ratio") {
  SOURCE(recalled, "IIW-1823-07 (2008), case I of the stress ratio", "rounding of the arithmetic");
  CHECK(iiw_case_1_factor(-200, 100) == Expected(1.6));
  CHECK(iiw_case_1_factor(-100, 100) == Expected(1.6));
  CHECK(iiw_case_1_factor(-50, 100) == Expected(1.4));
  CHECK(iiw_case_1_factor(0, 100) == Expected(1.2));
  CHECK(iiw_case_1_factor(50, 100) == Expected(1.0));
  CHECK(iiw_case_1_factor(51, 100) == Expected(1.0));
  CHECK(iiw_case_1_factor(-100, -20) == Expected(1.6));
  CHECK(effective_range(MeanStress::iiw_case_1, -100, 100) == Expected(200 / 1.6));
}

TEST_CASE("without a rule the range counts whole") {
  OURS;
  CHECK(effective_range(MeanStress::none, -80, 100) == 180);
}
