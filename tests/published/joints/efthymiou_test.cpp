// SPDX-License-Identifier: GPL-3.0-or-later
// Efthymiou's equations as printed in DNV-RP-C203 Appendix B, Table B-1. Values: computed independently from
// the printed equations (four decimals); eqs 2 and 4 agree with several prints, which differ elsewhere in
// misprints.
#include <cmath>
#include <limits>

#include "engine/joints/hot_spot.h"
#include "engine/joints/throat.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::joints;
using seamwright::outside::Expected;
using seamwright::outside::four_decimals;

namespace {
const JointRatios v1{20, 0.6, 14, 0.7, 60};
const JointRatios v18{15, 0.4, 20, 0.5, 45};
const JointRatios v19{8.3, 0.95, 12, 0.75, 90};
}  // namespace

TEST_CASE("T and Y factors at beta 0.6 gamma 14 tau 0.7 theta 60 alpha 20") {
  SOURCE(evaluated, "DNV-RP-C203 Appendix B, Table B-1, eqs 1 to 11", "four decimals were evaluated");
  CHECK(eq1_chord_saddle_axial_fixed(v1) == four_decimals(8.1946));
  CHECK(eq2_chord_crown_axial_fixed(v1) == four_decimals(3.8869));
  CHECK(eq3_brace_saddle_axial(v1) == four_decimals(6.1580));
  CHECK(eq4_brace_crown_axial_fixed(v1) == four_decimals(2.6204));
  CHECK(eq5_chord_saddle_axial(v1, 0.7) == four_decimals(8.7994));
  CHECK(eq6_chord_crown_axial(v1, 0.7) == four_decimals(4.6144));
  CHECK(eq7_brace_crown_axial(v1, 0.7) == four_decimals(2.9564));
  CHECK(eq8_chord_crown_in_plane(v1) == four_decimals(2.7710));
  CHECK(eq9_brace_crown_in_plane(v1) == four_decimals(2.8572));
  CHECK(eq10_chord_saddle_out_of_plane(v1) == four_decimals(6.8816));
  CHECK(eq11_brace_saddle_out_of_plane(v1) == four_decimals(5.2526));
}

TEST_CASE("T and Y factors at beta 0.4 gamma 20 tau 0.5 theta 45 alpha 15") {
  SOURCE(evaluated, "DNV-RP-C203 Appendix B, Table B-1, eqs 1 to 11", "four decimals were evaluated");
  CHECK(eq1_chord_saddle_axial_fixed(v18) == four_decimals(5.7168));
  CHECK(eq2_chord_crown_axial_fixed(v18) == four_decimals(2.8028));
  CHECK(eq3_brace_saddle_axial(v18) == four_decimals(4.6434));
  CHECK(eq4_brace_crown_axial_fixed(v18) == four_decimals(2.3677));
  CHECK(eq5_chord_saddle_axial(v18, 0.7) == four_decimals(5.8928));
  CHECK(eq8_chord_crown_in_plane(v18) == four_decimals(2.2353));
  CHECK(eq9_brace_crown_in_plane(v18) == four_decimals(3.0228));
  CHECK(eq10_chord_saddle_out_of_plane(v18) == four_decimals(3.7512));
  CHECK(eq11_brace_saddle_out_of_plane(v18) == four_decimals(3.7753));
}

TEST_CASE("short chords lower the saddle factors") {
  SOURCE(evaluated, "DNV-RP-C203 Appendix B, Table B-1, factors F1 to F3", "four decimals were evaluated");
  CHECK(f1_short_chord(v19) == four_decimals(0.9548));
  CHECK(f2_short_chord(v19) == four_decimals(0.9948));
  CHECK(f3_short_chord(v19) == four_decimals(0.9337));
  CHECK(eq1_chord_saddle_axial_fixed(v19) * f1_short_chord(v19) == four_decimals(4.6367));
  CHECK(eq3_brace_saddle_axial(v19) * f1_short_chord(v19) == four_decimals(3.6651));
  CHECK(eq10_chord_saddle_out_of_plane(v19) * f3_short_chord(v19) == four_decimals(6.3847));
  CHECK(eq11_brace_saddle_out_of_plane(v19) * f3_short_chord(v19) == four_decimals(4.0089));
  const JointRatios v20{6, 0.5, 15, 0.5, 90};
  CHECK(f1_short_chord(v20) == Expected(0.78649).epsilon(0).margin(1e-5));
  CHECK(f2_short_chord(v20) == Expected(0.88903).epsilon(0).margin(1e-5));
  CHECK(f3_short_chord(v20) == Expected(0.91948).epsilon(0).margin(1e-5));
  CHECK(f1_short_chord({12, 0.5, 15, 0.5, 90}) == 1);
}

TEST_CASE("fixed ends fall back on the fixed equations") {
  SOURCE(evaluated, "DNV-RP-C203 Appendix B, Table B-1: C = 0.5 is the fixed end",
         "rounding of the arithmetic");
  CHECK(eq5_chord_saddle_axial(v1, 0.5) == Expected(eq1_chord_saddle_axial_fixed(v1)));
  CHECK(eq6_chord_crown_axial(v1, 0.5) == Expected(eq2_chord_crown_axial_fixed(v1)));
  CHECK(eq7_brace_crown_axial(v1, 0.5) == Expected(eq4_brace_crown_axial_fixed(v1)));
}

TEST_CASE("eight points by DNV-RP-C203 eqn 3.3.1") {
  SOURCE(evaluated, "DNV-RP-C203 eqn 3.3.1", "four decimals were evaluated");
  const auto s = eight_points({3, 6, 2, 5}, {10, 20, -8});
  const double expected[] = {70.0, 101.5685, 100.0, 45.0, -10.0, -11.5685, 20.0, 45.0};
  for (std::size_t i = 0; i < 8; ++i) CHECK(s[i] == four_decimals(expected[i]));
  const auto nominal = eight_points({1, 1, 1, 1}, {10, 20, -8});
  CHECK(nominal[0] == Expected(30));
  CHECK(nominal[2] == Expected(18));
  CHECK(nominal[4] == Expected(-10));
}

TEST_CASE("full chain of a Y joint with fixed chord ends") {
  SOURCE(evaluated, "DNV-RP-C203 Table B-1 and eqn 3.3.1", "two decimals were evaluated");
  const ScfSide chord{eq2_chord_crown_axial_fixed(v1), eq1_chord_saddle_axial_fixed(v1),
                      eq8_chord_crown_in_plane(v1), eq10_chord_saddle_out_of_plane(v1)};
  const auto s = eight_points(chord, {40, 25, 10});
  const double expected[] = {224.75, 241.96, 258.97, 143.99, 86.20, 241.31, 396.60, 339.28};
  for (std::size_t i = 0; i < 8; ++i) CHECK(s[i] == Expected(expected[i]).epsilon(0).margin(0.006));
}

TEST_CASE("outside the range the larger of actual and limiting rules and is marked") {
  SOURCE(evaluated, "DNV-RP-C203 Appendix B: the larger of actual and limiting parameters", "comparison");
  const TyJoint thin{40, 3, 68, 28, 1.5, 90};  // gamma 6.7 below 8, alpha 3.4 below 4
  const TyScf scf = ty_scf(thin, 0.7);
  CHECK(scf.evidence.coverage == Coverage::extended);
  const JointRatios at_limit{4, 0.7, 8, 0.5, 90};
  CHECK(scf.chord.in_plane >= eq8_chord_crown_in_plane(at_limit));
  CHECK(scf.chord.in_plane >= eq8_chord_crown_in_plane(joint_ratios(thin)));
  CHECK(scf.brace.axial_crown >= 1.5);
  const TyScf inside = ty_scf({168.3, 6.3, 1000, 101, 5, 60}, 0.7);
  CHECK(inside.evidence.coverage == Coverage::inside);
  CHECK(ty_scf({30, 2, 500, 40, 2, 90}, 0.7).evidence.coverage == Coverage::none);
}

TEST_CASE("impossible joints are refused") {
  CHECK_THROWS_AS(ty_scf({40, 20, 500, 30, 2, 90}, 0.7), Fault);
  CHECK_THROWS_AS(ty_scf({40, -2, 500, 30, 2, 90}, 0.7), Fault);
  CHECK_THROWS_AS(ty_scf({40, 2, 500, 30, std::numeric_limits<double>::quiet_NaN(), 90}, 0.7), Fault);
  CHECK_THROWS_AS(throat_stress_dnv({100, 0}, 0), Fault);
}

TEST_CASE("throat stress weighs shear along the weld by 0.2") {
  SOURCE(recalled, "DNV-RP-C203 2.3.5", "rounding of the arithmetic");
  // DNV-RP-C203 2.3.5 [from memory]
  CHECK(throat_stress_dnv({100, 0}, 2).range_mpa == Expected(50));
  CHECK(throat_stress_dnv({0, 100}, 2).range_mpa == Expected(50 * std::sqrt(0.2)));
}
