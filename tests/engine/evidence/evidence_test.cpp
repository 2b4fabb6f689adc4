// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/evidence/evidence.h"

#include <catch2/catch.hpp>
#include <limits>

using namespace seamwright;

TEST_CASE("a limit is inside at its bounds and outside beyond them") {
  CHECK(limit("beta", 0.2, "", 0.2, 1.0).inside);
  CHECK(limit("beta", 1.0, "", 0.2, 1.0).inside);
  CHECK_FALSE(limit("beta", 0.1999, "", 0.2, 1.0).inside);
  CHECK_FALSE(limit("beta", 1.0001, "", 0.2, 1.0).inside);
  CHECK_FALSE(limit("beta", std::numeric_limits<double>::quiet_NaN(), "", 0.2, 1.0).inside);
}

TEST_CASE("coverage takes the worse of two") {
  CHECK(worse_coverage(Coverage::inside, Coverage::extended) == Coverage::extended);
  CHECK(worse_coverage(Coverage::none, Coverage::extended) == Coverage::none);
  CHECK(std::string(name_of(Coverage::extended)) == "extended");
}

TEST_CASE("all limits must be inside") {
  CHECK(all_inside({limit("a", 1, "", 0, 2), limit("b", 1, "", 0, 2)}));
  CHECK_FALSE(all_inside({limit("a", 1, "", 0, 2), limit("b", 3, "", 0, 2)}));
}
