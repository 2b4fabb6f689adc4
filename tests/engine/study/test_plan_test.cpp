// SPDX-License-Identifier: GPL-3.0-or-later
// Test plans against closed forms, statics by hand, and what the fit makes of such results.
#include "engine/study/test_plan.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <memory>

#include "catalog/models/joint_library.h"
#include "engine/fatigue/fit.h"
#include "engine/measured/rig_rating.h"
#include "engine/rating/memory.h"
#include "engine/rating/service.h"
#include "engine/sites/joint_readings.h"
#include "engine/study/frame_tests.h"
#include "tests/engine/rating/short_demo.h"

namespace seamwright::study {

namespace {

struct Planned {
  rating::Job job = rating::straight(rating::one_leg());
  rating::Memory memory;
  rating::Rating rating;
  TestPlan plan;
};

const Planned& planned() {
  static const std::unique_ptr<Planned> once = [] {
    auto p = std::make_unique<Planned>();
    p->job.joint_models = std::make_shared<const solid::JointLibrary>(models::shipped_joints(sites::frame_joints(p->job.design)));
    p->rating = rating::rated(p->job, rating::Method::spectral);
    p->plan = test_plan(p->job, published::catalog().data, p->rating, {}, p->memory);
    return p;
  }();
  return *once;
}

TestPlan plan_for(const std::string& weld, TestWishes wishes = {}) {
  rating::Memory memory;
  wishes.welds = {weld};
  return test_plan(planned().job, published::catalog().data, planned().rating, wishes, memory);
}

MessageId refusal(const std::string& weld, const TestWishes& wishes = {}) {
  try {
    plan_for(weld, wishes);
  } catch (const Fault& fault) {
    return fault.message.id;
  }
  return {};
}

const fatigue::Curve& curve_named(const std::string& id) {
  return *rules::curve_of(published::catalog().data, rules::dnv, id, "air");
}

}  // namespace

TEST_CASE("cycles scatter by joint and curve, and their mean by Student's t") {
  CHECK(interval_80(1000, 0).low == Approx(1000));
  CHECK(interval_80(1000, 0.5).high == Approx(1000 * std::exp(1.2815515655446004 * 0.5)));
  CHECK(interval_80(1000, 0.5).low * interval_80(1000, 0.5).high == Approx(1e6));
  CHECK(cycles_deviation(3, 0.2, 0.8, 1) == Approx(1.0));
  CHECK(cycles_deviation(3, 0.2, 0.8, 4) == Approx(std::sqrt(0.36 + 0.16)));
  CHECK(mean_half_width(0.25, 6) == Approx(1.476 * 0.25 / std::sqrt(6)).epsilon(1e-3));  // t of 90 %, five degrees
  CHECK(std::isinf(mean_half_width(0.25, 1)));
  CHECK(joint_bias(0.125, 3) == Approx(2));
  CHECK(joint_bias(1, 3) == Approx(1));
}

TEST_CASE("the force gives the range, and the range the cycles, by hand") {
  REQUIRE(planned().plan.tests.size() == 3);
  for (const WeldTest& t : planned().plan.tests) {
    CHECK(t.greatest_n - t.least_n == Approx(std::copysign(t.force_range_n, t.greatest_n)));
    CHECK(t.least_n / t.greatest_n == Approx(0.1));
    CHECK(t.greatest_n * t.place.mpa_per_n > 0);  // in tension
    CHECK(t.range_mpa == Approx(t.force_range_n * std::abs(t.place.mpa_per_n)));
    const fatigue::Segment& steep = curve_named(t.curve).segments[0];
    const double deviation = t.curve_deviation / std::log(10.0);
    CHECK(t.place.cycles == Approx(std::pow(10, steep.log_a + 2 * deviation) / std::pow(t.range_mpa, steep.slope)));
    if (!t.lowered) CHECK(t.place.cycles == Approx(3e5));
    CHECK(t.slope == Approx(steep.slope));
    CHECK(t.first.cycles <= t.place.cycles);
    CHECK(t.nominal_mpa <= t.yield_mpa * (1 + 1e-9));
    CHECK(t.class_mpa_2e6 == Approx(std::pow(10, (steep.log_a - std::log10(2e6)) / steep.slope)));
  }
}

TEST_CASE("results change the weld's life and give the curve that fit finds") {
  const WeldTest& t = planned().plan.tests[0];
  const double deviation = t.curve_deviation / std::log(10.0);
  for (const TestOutcome& o : t.outcomes) {
    CHECK(o.joint_bias == Approx(std::pow(o.cycles_ratio, -1 / t.slope)));
    CHECK(o.life == Approx(t.life.median * o.cycles_ratio).epsilon(0.05));  // nearly one slope
    CHECK(o.life_interval.high / o.life == Approx(o.life / o.life_interval.low));
    // Six results whose logarithms scatter by just the curve's deviation.
    std::vector<fatigue::Test> tests;
    for (int i = 0; i < 6; ++i)
      tests.push_back({t.range_mpa, o.cycles_ratio * t.place.cycles * std::pow(10, (i % 2 ? 1 : -1) * deviation * std::sqrt(5.0 / 6))});
    fatigue::FitOptions how;
    how.slope = t.slope;
    const fatigue::Fit fit = fatigue::fit_curve(tests, how);
    CHECK(fit.deviation == Approx(deviation));
    CHECK(fit.mean_mpa_2e6 == Approx(o.mean_mpa_2e6));
    CHECK(fit.design_mpa_2e6 == Approx(o.design_mpa_2e6));
  }
  // What the pieces leave is less than before, so that the interval is narrower.
  CHECK(t.deviation_left == Approx(t.curve_deviation / (t.slope * std::sqrt(6))));
  CHECK(t.deviation_left < t.joint_deviation);
  CHECK(t.outcomes[2].life_interval.high < t.life.high);
  CHECK(plan_for(t.specimen.weld, {.pieces = 24}).tests[0].deviation_left == Approx(t.deviation_left / 2));
}

TEST_CASE("a piece stands in equilibrium, and its brace bends as a beam does") {
  const rating::JointsOfJob joints = rating::joints_of(planned().job);
  std::size_t pieces = 0;
  for (const solid::ModelledJoint& joint : joints.modelled)
    for (std::size_t seam = 0; seam < joint.joint.welds.size(); seam += 2) {
      const std::optional<Specimen> s = specimen_of(planned().job.design, joint, seam);
      if (!s) continue;
      ++pieces;
      const SpecimenForces f = specimen_forces(*s, joint);
      for (const TestForce force : test_forces) {
        const auto k = static_cast<Eigen::Index>(force);
        frame::Vec3 sum{0, 0, 0}, moment{0, 0, 0};
        for (std::size_t e = 0; e < s->tubes.size(); ++e) {
          const frame::Vec3 push = f.at_ends.col(k).segment<3>(static_cast<Eigen::Index>(6 * e));
          sum += push;
          moment += s->tubes[e].model_end_mm.cross(push) + frame::Vec3(f.at_ends.col(k).segment<3>(static_cast<Eigen::Index>(6 * e + 3)));
          if (s->tubes[e].use == TubeUse::free) CHECK(push.norm() < 1e-6);
        }
        CHECK(sum.norm() < 1e-6);
        CHECK(moment.norm() < 1e-3);
        CHECK(f.stroke_mm[k] > 0);
        const auto at = static_cast<Eigen::Index>(6 * s->loaded);
        CHECK((f.at_ends.col(k).segment<3>(at) - s->direction(force)).norm() < 1e-6);
        const frame::SectionProperties p = frame::section_properties(s->loaded_tube().section, 0.3).properties;
        const double foot = force == TestForce::axial ? 1 / p.area_mm2 : s->lever_mm() / p.w_y_mm3;
        CHECK(f.nominal_mpa[k] >= foot * (1 - 1e-6));
      }
    }
  CHECK(pieces > 20);
}

TEST_CASE("one piece stands for welds that mirror each other, and none is chosen twice") {
  for (const WeldTest& t : planned().plan.tests)
    for (const WeldTest& other : planned().plan.tests)
      CHECK(std::find(t.alike.begin(), t.alike.end(), other.specimen.weld) == t.alike.end());
  const WeldTest left = plan_for("W38.L").tests[0], right = plan_for("W38.R").tests[0];
  CHECK(left.alike == std::vector<std::string>{"W38.R"});
  CHECK(plan_for("W32.R").tests[0].alike == std::vector<std::string>{"W32.L"});
  CHECK(left.force_range_n == Approx(right.force_range_n).epsilon(0.02));
}

TEST_CASE("wishes are kept, and what cannot be tested says why") {
  const WeldTest t = plan_for("W38.L", {.cycles = 1e5, .ratio = 0.5}).tests[0];
  CHECK(t.least_n / t.greatest_n == Approx(0.5));
  if (!t.lowered) CHECK(t.place.cycles == Approx(1e5));
  CHECK(refusal("W54.L") == "testplan.no-life");
  CHECK(refusal("N1.L") == "testplan.no-model");
  CHECK(refusal("nowhere") == "rating.unknown-weld");
  CHECK(refusal("W38.L", {.pieces = 1}) == "testplan.bad-wish");
  CHECK(refusal("W38.L", {.cycles = std::nan("")}) == "testplan.bad-wish");
  CHECK(refusal("W38.L", {.ratio = 1}) == "testplan.bad-wish");
  rating::Job bare = planned().job;
  bare.joint_models = nullptr;
  rating::Memory memory;
  const TestPlan none = test_plan(bare, published::catalog().data, planned().rating, {}, memory);
  CHECK(none.tests.empty());
  REQUIRE(none.left_out.size() == 1);
  CHECK(none.left_out[0].id == "testplan.no-model");
}

TEST_CASE("the frame on a rig and the ride say what their results change") {
  const rating::Rating& r = planned().rating;
  measured::RigResult hits, misses;
  hits.id = "hits";
  hits.cycles = 1e5;
  hits.weld = hits.service_weld = misses.service_weld = r.likelihood.budget.weld;
  hits.rig_damage_there = hits.damage = 0.1;
  hits.equal_cycles = 5e5;
  misses.id = "misses";
  misses.damage = 3;
  misses.rig_damage_there = 0.01;
  misses.equal_cycles = 1e7;
  const std::optional<RigTest> t = rig_test(r, {misses, hits}, 3e5);
  REQUIRE(t);
  CHECK(t->rig_case == "hits");
  CHECK_FALSE(t->other_first);
  // 1e6 cycles on the characteristic curve, two deviations of 0.25 below the mean.
  CHECK(t->cycles_as_is == Approx(1e6 * std::pow(10, 0.5)));
  CHECK(t->force_factor == Approx(std::pow(t->cycles_as_is / 3e5, 1 / r.likelihood.budget.slope)));
  CHECK_FALSE(rig_test(r, {}, 3e5));

  const std::optional<RideTest> ride = ride_test(planned().job, r);
  REQUIRE(ride);
  CHECK(ride->leg == r.loads.largest.leg);
  CHECK(ride->outcomes[2].life == Approx(r.welds[0].predicted.life.median));
  CHECK(ride->outcomes[0].life > ride->outcomes[4].life);
  CHECK(ride->outcomes[2].life_interval.high < r.welds[0].predicted.life.high);
}

}  // namespace seamwright::study
