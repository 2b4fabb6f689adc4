// SPDX-License-Identifier: GPL-3.0-or-later
// A fatigue test of the welds that govern: which piece, which force, how many cycles are predicted, and what the result
// changes. Forces in N, stress in MPa, lives in services; m is the slope of the S-N curve, s its standard deviation.
//
// Constant amplitude on one piece has neither the scatter of loads, of the frame's model and of use nor that of the Miner
// sum: what is left is the joint's model, which all pieces share, and the S-N curve, from piece to piece
// (fatigue/likelihood.h says where both come from).
#pragma once

#include "engine/fatigue/curve.h"
#include "engine/fatigue/prediction.h"
#include "engine/study/test_specimen.h"
#include "engine/study/test_statistics.h"

namespace seamwright::rating {
class Memory;
struct Job;
struct Rating;
}  // namespace seamwright::rating
namespace seamwright::rules {
struct Published;
}

namespace seamwright::study {

/// Defaults are choices of ours: pieces fail within days on an ordinary rig, on the steep branch of every set's curve, and stay in tension
/// or in compression throughout.
struct TestWishes {
  std::vector<std::string> welds{};  ///< empty: those that are predicted to crack first, one of each shape of joint
  std::size_t most = 3;              ///< where none are named
  int pieces = 6;                    ///< 2 to 100
  double cycles = 3e5;               ///< median that the force is set for, 1e4 to 2e6
  double ratio = 0.1;                ///< least over greatest force, 0 to below 1
};

/// The piece may crack here, at the force that was chosen.
struct TestPlace {
  std::string weld, site;
  double mpa_per_n = 0;  ///< local stress
  double cycles = 0;     ///< median; infinite below a cut-off
};

/// The service puts so much damage on the place by this force of the brace alone, held as in the test: over all its
/// damage, by spectral moments, without factors. The three and the rest do not sum to 1, as stress adds before it counts.
struct ForceChoice {
  TestForce force = TestForce::axial;
  double damage_share = 0;
  double mpa_per_n = 0;  ///< at the governing site
};

/// The tests may say this.
struct TestOutcome {
  double cycles_ratio = 1;     ///< observed over predicted median
  double joint_bias = 1;
  double life = 0;             ///< of the weld in the frame, median, services: in proportion
  CycleInterval life_interval{};  ///< 80 %, with what the tests leave of the joint's deviation
  double mean_mpa_2e6 = 0, design_mpa_2e6 = 0;  ///< of the curve that `fit` makes of them, with the set's slope
};

struct WeldTest {
  Specimen specimen;
  std::string kind;                ///< joint kind, for `fit`
  std::string place_kind;          ///< "root"
  fatigue::StressKind stress = fatigue::StressKind::nominal;  ///< for `fit`
  double wall_mm = 0;              ///< of the tube that cracks
  std::vector<std::string> alike;  ///< other welds that the same piece stands for
  std::string governing_site;      ///< in the service
  fatigue::PredictedLife life;     ///< of the weld in the frame, services
  std::vector<ForceChoice> choices;  ///< as test_forces
  TestForce force = TestForce::axial;
  TestPlace place;                 ///< of the governing kind, where the piece cracks first among these
  TestPlace first;                 ///< of all places of the joint
  std::string curve;
  double range_mpa = 0, force_range_n = 0, least_n = 0, greatest_n = 0;  ///< of the force, with its sign: positive pulls, or along in_plane and across
  double nominal_mpa = 0, yield_mpa = 0;  ///< largest nominal stress at the greatest force; yield 0: not stated
  std::string nominal_member;
  bool lowered = false;            ///< the force, to stay below yield
  double stroke_mm = 0;            ///< of the actuator over the range
  double slope = 0, joint_deviation = 0, curve_deviation = 0;  ///< ln stress, ln N
  int pieces = 0;
  CycleInterval one, mean;         ///< 80 %: of a piece, of the mean of all
  double run_out = 0;              ///< cycles
  double half_width = 0;           ///< mean_half_width with the curve's own deviation
  double deviation_left = 0;       ///< of ln stress: what the tests leave of the joint's, curve / (m sqrt n)
  double class_mpa_2e6 = 0;        ///< characteristic, of the set's curve
  std::vector<TestOutcome> outcomes;
};

struct TestPlan {
  std::vector<WeldTest> tests;
  std::vector<Message> left_out;  ///< "testplan.…": welds that would come before the last and cannot be tested so, one message for each reason
};

/// rating: of the same job. Throws Fault "testplan.bad-wish"; for a weld that is named and has no test, the message that
/// would stand in left_out; and what rating::rate() throws.
TestPlan test_plan(const rating::Job& job, const rules::Published& published, const rating::Rating& rating, const TestWishes& wishes,
                   rating::Memory& memory);

}  // namespace seamwright::study
