// SPDX-License-Identifier: GPL-3.0-or-later
// The comparisons themselves: a check that cannot fail would make the report worthless.
#include "tests/published/outside/outside.h"

#include <limits>

using namespace seamwright::outside;

TEST_CASE("a number is met within the larger of its tolerances and not beyond") {
  OURS;
  CHECK(Expected(10).margin(0.1).epsilon(0).met_by(10.1));
  CHECK_FALSE(Expected(10).margin(0.1).epsilon(0).met_by(10.1001));
  CHECK(Expected(-10).epsilon(0.01).met_by(-9.9));
  CHECK_FALSE(Expected(-10).epsilon(0.01).met_by(-9.89));
  CHECK_FALSE(Expected(10).epsilon(0.5).met_by(-10));
  CHECK_FALSE(Expected(10).met_by(std::numeric_limits<double>::quiet_NaN()));
  CHECK_FALSE(Expected(10).met_by(std::numeric_limits<double>::infinity()));
  CHECK(Expected(std::numeric_limits<double>::infinity()).met_by(std::numeric_limits<double>::infinity()));
  CHECK_FALSE(WithinRel(1, 1e-3).match(1.0011));
  CHECK_FALSE(WithinAbs(1, 1e-3).match(0.9989));
}
