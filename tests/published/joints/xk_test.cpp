// SPDX-License-Identifier: GPL-3.0-or-later
// X and K joints of DNV-RP-C203 Appendix B, Tables B-2 and B-3. Values computed independently from the
// printed equations (four decimals); eq. 25 is from memory.
#include "engine/joints/xk.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::joints;
using seamwright::outside::Expected;
using seamwright::outside::four_decimals;

TEST_CASE("X joints at beta 0.6 gamma 14 tau 0.7 theta 60 alpha 20") {
  SOURCE(evaluated, "DNV-RP-C203 Appendix B, Table B-2", "four decimals were evaluated");
  const JointRatios r{20, 0.6, 14, 0.7, 60};
  CHECK(eq12_chord_saddle_x(r) == four_decimals(12.4962));
  CHECK(eq13_chord_crown_x(r) == four_decimals(2.0683));
  CHECK(eq14_brace_saddle_x(r) == four_decimals(7.5753));
  CHECK(eq15_brace_crown_x(r) == four_decimals(2.2844));
  CHECK(eq16_chord_saddle_x_out(r) == four_decimals(6.4758));
  CHECK(eq17_brace_saddle_x_out(r) == four_decimals(4.9429));
}

TEST_CASE("K joint with equal braces: beta 0.5 tau 0.5 theta 45 gamma 12 zeta 0.2") {
  SOURCE(evaluated, "DNV-RP-C203 Appendix B, Table B-3; eq. 25 from memory", "four decimals were evaluated");
  const JointRatios r{20, 0.5, 12, 0.5, 45};
  const KPartner p{r, 0.2};
  CHECK(eq20_chord_k(r, p) == four_decimals(2.6542));
  CHECK(eq21_brace_k(r, p, 0) == four_decimals(2.4910));
  CHECK(eq23_chord_saddle_k_out(r, p) == four_decimals(3.2006));
  CHECK(eq24_brace_saddle_k_out(r, p) == four_decimals(3.1235));
  CHECK(eq25_chord_saddle_k_one_loaded_out(r, p) == four_decimals(2.5132));
}

TEST_CASE("K joint with unequal braces, gamma 15, zeta 0.15") {
  SOURCE(evaluated, "DNV-RP-C203 Appendix B, Table B-3", "four decimals were evaluated");
  const JointRatios a{20, 0.6, 15, 0.8, 60}, b{20, 0.4, 15, 0.6, 40};
  const KPartner of_a{b, 0.15}, of_b{a, 0.15};
  CHECK(eq20_chord_k(a, of_a) == four_decimals(6.6423));
  CHECK(eq21_brace_k(a, of_a, 0) == four_decimals(4.6450));
  CHECK(eq23_chord_saddle_k_out(a, of_a) == four_decimals(8.6632));
  CHECK(eq24_brace_saddle_k_out(a, of_a) == four_decimals(6.1313));
  CHECK(eq20_chord_k(b, of_b) == four_decimals(3.7816));
  CHECK(eq21_brace_k(b, of_b, 0) == four_decimals(3.1507));
  CHECK(eq23_chord_saddle_k_out(b, of_b) == four_decimals(5.1127));
  CHECK(eq24_brace_saddle_k_out(b, of_b) == four_decimals(4.7307));
}

TEST_CASE("K joint with overlap zeta -0.2") {
  SOURCE(evaluated, "DNV-RP-C203 Appendix B, Table B-3", "four decimals were evaluated");
  const JointRatios r{20, 0.5, 12, 0.5, 45};
  const KPartner p{r, -0.2};
  CHECK(eq21_brace_k(r, p, 0) == four_decimals(1.9277));
  CHECK(eq21_brace_k(r, p, 0.5) == four_decimals(2.1877));
  CHECK(eq21_brace_k(r, p, 1) == four_decimals(2.4478));
}

TEST_CASE("short chords: F4") {
  SOURCE(evaluated, "DNV-RP-C203 Appendix B, factor F4", "four decimals were evaluated");
  CHECK(f4_short_chord({8.3, 0.95, 12, 0.75, 90}) == four_decimals(0.8464));
  CHECK(f4_short_chord({6, 0.5, 15, 0.75, 90}) == Expected(0.85100).margin(1e-5));
  CHECK(f4_short_chord({12, 0.5, 15, 0.75, 90}) == 1);
}

TEST_CASE("shares of the axial force mix the factors, X above Y above K at the saddle") {
  SOURCE(evaluated, "DNV-RP-C203 Appendix B, Tables B-1 to B-3", "rounding of the arithmetic");
  const TyJoint j{280, 10, 2800, 168, 7, 60};
  const TyScf y = ty_scf(j, 0.7), all_y = shared_scf(j, 0.7, {1, 0, 0}, nullptr, 0),
              x = shared_scf(j, 0.7, {0, 1, 0}, nullptr, 0), k = shared_scf(j, 0.7, {0, 0, 1}, &j, 30),
              half = shared_scf(j, 0.7, {0.5, 0.5, 0}, nullptr, 0);
  CHECK(all_y.chord.axial_saddle == y.chord.axial_saddle);
  CHECK(x.chord.axial_saddle == Expected(12.4962).epsilon(1e-4));
  CHECK(x.chord.axial_saddle > y.chord.axial_saddle);
  CHECK(y.chord.axial_saddle > k.chord.axial_saddle);
  CHECK(half.chord.axial_saddle ==
        Expected((x.chord.axial_saddle + y.chord.axial_saddle) / 2).epsilon(1e-12));
  CHECK(x.chord.in_plane == y.chord.in_plane);
  CHECK(k.chord.axial_saddle == k.chord.axial_crown);
  CHECK(k.evidence.coverage == Coverage::inside);
  CHECK(shared_scf(j, 0.7, {0, 0, 1}, &j, 400).evidence.coverage == Coverage::extended);
  CHECK_THROWS_AS(shared_scf(j, 0.7, {0.5, 0, 0}, nullptr, 0), Fault);
  CHECK_THROWS_AS(shared_scf(j, 0.7, {0, 0, 1}, nullptr, 0), Fault);
  CHECK_THROWS_AS(shared_scf(j, 0.7, {1.5, -0.5, 0}, nullptr, 0), Fault);
}
