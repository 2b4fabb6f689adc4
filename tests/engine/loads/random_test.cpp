// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/random.h"

#include <catch2/catch.hpp>
#include <cmath>

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using seamwright::loads::NamedRandom;

// Expected values: the algorithms in integer arithmetic of Python, the normal inverse in 30 digits.
TEST_CASE("first numbers of two names") {
  NamedRandom none(""), autumn("autumn");
  CHECK(none.next() == 0xc3817c016ba4ff30ULL);
  CHECK(none.next() == 0x100cdaacc0bc9316ULL);
  CHECK(none.next() == 0x54c3a569ecf61b1bULL);
  CHECK(autumn.next() == 0xb92da36cc8c9e5b4ULL);
  CHECK(autumn.next() == 0x3a409bd516f7e162ULL);
  CHECK(autumn.next() == 0x90fe57ac26c4ee00ULL);
}

TEST_CASE("first uniform and normal numbers") {
  NamedRandom uniform("autumn"), normal("autumn");
  for (const double u : {0.7233526363932367, 0.2275483508337569, 0.5663809581081015})
    CHECK(uniform.uniform() == u);
  for (const double z : {0.5928303006087308, -0.7469450984553653, 0.16716771861525173})
    CHECK_THAT(normal.normal(), WithinRel(z, 1e-14));
}

TEST_CASE("a name repeats its numbers and another name has others") {
  NamedRandom a("week 1/leg"), b("week 1/leg"), c("week 2/leg");
  int same = 0;
  for (int i = 0; i < 1000; ++i) {
    const std::uint64_t v = a.next();
    CHECK(v == b.next());
    same += v == c.next();
  }
  CHECK(same == 0);
}

TEST_CASE("distribution of normal numbers") {
  NamedRandom r("distribution");
  constexpr int count = 200000;
  double sum = 0, square = 0, fourth = 0;
  int beyond_two = 0;
  for (int i = 0; i < count; ++i) {
    const double z = r.normal();
    REQUIRE(std::isfinite(z));
    sum += z;
    square += z * z;
    fourth += z * z * z * z;
    beyond_two += std::abs(z) > 2;
  }
  // Four standard errors: 1, sqrt(2), sqrt(96) over sqrt(count).
  CHECK_THAT(sum / count, WithinAbs(0, 0.009));
  CHECK_THAT(square / count, WithinAbs(1, 0.0127));
  CHECK_THAT(fourth / count, WithinAbs(3, 0.088));
  CHECK_THAT(double(beyond_two) / count, WithinAbs(0.0455003, 0.0019));
}

TEST_CASE("uniform numbers stay inside their ends") {
  NamedRandom r("ends");
  double least = 1, most = 0;
  for (int i = 0; i < 100000; ++i) {
    const double u = r.uniform();
    least = std::min(least, u);
    most = std::max(most, u);
  }
  CHECK(least > 0);
  CHECK(most < 1);
  CHECK(least < 1e-4);
  CHECK(most > 1 - 1e-4);
}
