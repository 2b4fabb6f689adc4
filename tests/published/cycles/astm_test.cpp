// SPDX-License-Identifier: GPL-3.0-or-later
// The printed rainflow example of ASTM E1049-85 (reapproved 2017), Fig. 6.
#include "tests/engine/cycles/signals.h"
#include "tests/published/outside/outside.h"

using namespace seamwright::cycles;

namespace {

// Points A to I.
const History fig_6{-2, 1, -3, 5, -1, 3, -4, 4, -2};
constexpr double A = -2, B = 1, C = -3, D = 5, E = -1, F = 3, G = -4, H = 4, I = -2;

}  // namespace

TEST_CASE("ASTM E1049 Fig. 6 counts") {
  SOURCE(printed, "ASTM E1049-85 (2017), Fig. 6", "exact");
  const Table printed{{3, 0.5}, {4, 1.5}, {6, 0.5}, {8, 1.0}, {9, 0.5}};
  CHECK(table(count_astm(fig_6)) == printed);
  CHECK(table(count(fig_6, Residue::half).all) == printed);
}

TEST_CASE("ASTM E1049 Fig. 6 pairs in the order of counting") {
  SOURCE(printed, "ASTM E1049-85 (2017), Fig. 6", "exact");
  struct Pair {
    double from, to, count;
  };
  const std::vector<Pair> printed{{A, B, 0.5}, {B, C, 0.5}, {E, F, 1.0}, {C, D, 0.5},
                                  {D, G, 0.5}, {G, H, 0.5}, {H, I, 0.5}};
  const auto counted = count_astm(fig_6);
  REQUIRE(counted.size() == printed.size());
  for (std::size_t i = 0; i < printed.size(); ++i) {
    INFO("pair " << i);
    CHECK(counted[i].from == printed[i].from);
    CHECK(counted[i].to == printed[i].to);
    CHECK(counted[i].count == printed[i].count);
  }
}

TEST_CASE("ASTM E1049 Fig. 6 by the four-point rule") {
  SOURCE(recalled, "Four-point rule, Amzallag et al., Int. J. Fatigue 16 (1994) 287, on ASTM E1049-85 Fig. 6",
         "exact");
  // Amzallag et al. 1994 [from memory]; E-F closes, the rest is residue.
  const Counted counted = count(fig_6, Residue::half);
  CHECK(counted.residue == History{A, B, C, D, G, H, I});
  REQUIRE(counted.closed.size() == 1);
  CHECK(counted.closed[0].from == E);
  CHECK(counted.closed[0].to == F);
  CHECK(sum_of_powers(counted.all, 3) == 1094);
  CHECK(sum_of_powers(counted.all, 5) == 67838);
}
