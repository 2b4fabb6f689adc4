// SPDX-License-Identifier: GPL-3.0-or-later
// Factors of offset walls: independent evaluations of the formulas, which are themselves from memory (EN
// 1993-1-9 Table 8.3 row 17, IIW 2008, DNV-RP-C203).
#include <cmath>

#include "engine/joints/flexibility.h"
#include "engine/rules/misalignment.h"
#include "engine/rules/rule_sets.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::joints;
using seamwright::outside::Expected;

TEST_CASE("EN 1993-1-9: strength falls by one over the factor") {
  SOURCE(recalled, "EN 1993-1-9 Table 8.3 row 17", "digits of the evaluation");
  CHECK(1 / misalignment(rules::en1993, 2, 2, 0.2).factor == Expected(0.76923).epsilon(1e-5));
  CHECK(1 / misalignment(rules::en1993, 2, 3, 0.5).factor == Expected(0.65415).epsilon(1e-5));
  CHECK(misalignment(rules::en1993, 3, 2, 0.5).factor == misalignment(rules::en1993, 2, 3, 0.5).factor);
  CHECK(misalignment(rules::en1993, 2, 2, 0).factor == 1);
}

TEST_CASE("IIW: the class of a butt weld holds 15 percent already") {
  SOURCE(recalled, "IIW-1823-07 (2008): offset butt welds", "digits of the evaluation");
  // 1 + 6 * 0.2 / (2 * 0.91) / 2 = 1.3297
  CHECK(misalignment(rules::iiw, 2, 2, 0.2).factor == Expected(1.3297 / 1.15).epsilon(1e-4));
  CHECK(misalignment(rules::iiw, 2, 2, 0.05).factor == 1);  // 1.08 is below what the class holds
}

TEST_CASE("DNV: a tenth of the wall is in the curve") {
  SOURCE(recalled, "DNV-RP-C203: offset butt welds, a tenth of the wall in the curve",
         "rounding of the arithmetic");
  CHECK(misalignment(rules::dnv, 2, 2, 0.2).factor == Expected(1));
  CHECK(misalignment(rules::dnv, 2, 2, 0.4).factor == Expected(1 + 6 * 0.2 / 2 / 2));
}

TEST_CASE("impossible offsets") {
  CHECK_THROWS_AS(misalignment(rules::en1993, 2, 2, -0.1), Fault);
  CHECK_THROWS_AS(misalignment(rules::en1993, 0, 2, 0.1), Fault);
}

TEST_CASE("flexibility of a chord's wall") {
  SOURCE(recalled, "Fessler, Mockford & Webster 1986, by hand", "digits of the evaluation");
  // Fessler, Mockford & Webster 1986 [from memory], evaluated by hand: beta 0.5, gamma 10, 90 degrees, E D =
  // 210000 * 60
  const JointFlexibility f = joint_flexibility({60, 3, 800, 30, 2, 90}, 210000);
  CHECK(f.axial == Expected(1.95 * 141.254 * 0.40613 / 1.26e7).epsilon(1e-4));
  CHECK(f.in_plane == Expected(134 * 53.7032 * 0.104350 / 4.536e10).epsilon(1e-4));
  CHECK(f.out_of_plane == Expected(85.5 * 158.489 * 0.145876 / 4.536e10).epsilon(1e-4));
  CHECK(f.evidence.coverage == Coverage::inside);
  CHECK(f.evidence.from_memory);
  CHECK(joint_flexibility({60, 3, 800, 46, 2, 90}, 210000).evidence.coverage == Coverage::extended);
  CHECK(joint_flexibility({60, 3, 800, 60, 2, 90}, 210000).axial == 0);
}
