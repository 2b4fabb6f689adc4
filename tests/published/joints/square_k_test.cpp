// SPDX-License-Identifier: GPL-3.0-or-later
// K joints of square tubes: value of an independent evaluation of CIDECT Design Guide 8 (2000), K joints with
// gap; no printed example was to be had.

#include "engine/joints/rectangular.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::joints;
using seamwright::outside::Expected;

TEST_CASE("K joint of square tubes with a gap") {
  SOURCE(evaluated, "CIDECT Design Guide 8 (2000), K joints with gap", "digits of the evaluation");
  const SquareKScf scf = square_k_scf({100, 5, 60, 3, 45, 30});
  CHECK(scf.chord == Expected(7.245).epsilon(1e-4));
  CHECK(scf.brace == Expected(7.354).epsilon(1e-4));
  CHECK(scf.chord_loading == 2);  // the least that counts
  CHECK(scf.evidence.coverage == Coverage::inside);
}

TEST_CASE("both sides of the bounds of square K joints") {
  SOURCE(evaluated, "CIDECT Design Guide 8 (2000), range of K joints with gap", "both sides of each limit");
  CHECK(square_k_scf({100, 10, 60, 6, 45, 30}).evidence.coverage == Coverage::inside);  // 2 gamma 10
  CHECK(square_k_scf({100, 10.2, 60, 6, 45, 30}).evidence.coverage == Coverage::extended);
  CHECK(square_k_scf({105, 3, 60, 3, 45, 30}).evidence.coverage == Coverage::inside);  // 2 gamma 35
  CHECK(square_k_scf({106, 3, 60, 3, 45, 30}).evidence.coverage == Coverage::extended);
  CHECK(square_k_scf({100, 5, 35, 3, 45, 30}).evidence.coverage == Coverage::inside);  // beta 0.35
  CHECK(square_k_scf({100, 5, 34, 3, 45, 30}).evidence.coverage == Coverage::extended);
  CHECK(square_k_scf({100, 8, 60, 2, 45, 30}).evidence.coverage == Coverage::inside);  // tau 0.25
  CHECK(square_k_scf({100, 8, 60, 1.9, 45, 30}).evidence.coverage == Coverage::extended);
  CHECK(square_k_scf({100, 5, 60, 3, 45, 0}).evidence.coverage == Coverage::none);    // no gap
  CHECK(square_k_scf({100, 5, 101, 3, 45, 30}).evidence.coverage == Coverage::none);  // wider than its chord
  CHECK_THROWS_AS(square_k_scf({100, 0, 60, 3, 45, 30}), Fault);
}

TEST_CASE("a short gap raises the chord's own factor") {
  SOURCE(evaluated, "CIDECT Design Guide 8 (2000), chord loading", "digits of the evaluation");
  // (2.45 + 1.23 beta) g'^-0.27 with beta 0.6 and g' = 1, by hand
  CHECK(square_k_scf({100, 5, 60, 3, 45, 5}).chord_loading == Expected(3.188));
}
