// SPDX-License-Identifier: GPL-3.0-or-later
// A history counted once and counted as a repeated block: the choice of residue is not a detail. Figures
// worked by hand from the four-point rule (Amzallag et al., Int. J. Fatigue 16 (1994) 287 [from memory]) and
// the three-point rule of ASTM E1049-85 5.4.4.
#include "tests/engine/cycles/signals.h"
#include "tests/published/outside/outside.h"

using namespace seamwright::cycles;

namespace {

const History block{0, 10, -2, 6, 1, 8, -5, 4, 0};

}  // namespace

TEST_CASE("a block counted once") {
  SOURCE(recalled, "ASTM E1049-85 5.4.4 and the four-point rule of Amzallag et al. (1994), by hand", "exact");
  const Table expected{{4, 0.5}, {5, 1}, {9, 0.5}, {10, 1.5}, {15, 0.5}};
  CHECK(table(count_astm(block)) == expected);
  const Counted once = count(block, Residue::half);
  CHECK(table(once.all) == expected);
  CHECK(table(once.closed) == Table{{5, 1}, {10, 1}});
  CHECK(once.residue == History{0, 10, -5, 4, 0});
  CHECK(sum_of_powers(once.all, 3) == 3709);
  CHECK(sum_of_powers(once.all, 5) == 562849);
}

TEST_CASE("a block counted as repeated") {
  SOURCE(recalled, "Four-point rule of Amzallag et al. (1994), block repeated, by hand", "exact");
  const Counted repeated = count(block, Residue::repeated);
  CHECK(table(repeated.all) == Table{{4, 1}, {5, 1}, {10, 1}, {15, 1}});
  CHECK(sum_of_powers(repeated.all, 3) == 4564);
  CHECK(sum_of_powers(repeated.all, 5) == 863524);
}
