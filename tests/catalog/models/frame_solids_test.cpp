// SPDX-License-Identifier: GPL-3.0-or-later
// Questions to a whole frame's bodies.
#include "catalog/models/frame_solids.h"

#include "engine/evidence/evidence.h"
#include "tests/catalog/models/answers.h"

namespace seamwright::models {

namespace {

shape::Plan two_tubes() {
  shape::Plan plan;
  plan.parts = {tube("a", 100), tube("b", 200)};
  return plan;
}

}  // namespace

TEST_CASE("parts that share a place are told, and a part that was cut by the other is not asked about") {
  Counting source;
  shape::Plan plan = two_tubes();
  const BuiltFrame solids = frame_solids(source, plan, {});
  const std::vector<Message> told = frame_findings(source, plan, solids, {});
  REQUIRE(told.size() == 1);
  CHECK(told[0].id == MessageId("shape.interference"));
  plan.parts[1].cuts = {{stretch(), "a"}};
  CHECK(frame_findings(source, plan, solids, {}).empty());
  plan.parts[1].cuts.clear();
  source.shared_mm3 = 0.5;
  CHECK(frame_findings(source, plan, solids, {}).empty());
}

TEST_CASE("a body that is missing is told and counts nowhere") {
  Counting source;
  shape::Plan plan = two_tubes();
  BuiltFrame solids = frame_solids(source, plan, {});
  solids.parts[0] = shape::Built{};
  solids.parts[0].solid.id = "a";
  const std::vector<Message> told = frame_findings(source, plan, solids, {});
  REQUIRE(told.size() == 1);
  CHECK(told[0].id == MessageId("shape.not-built"));
  CHECK(named_bodies(plan, solids, true).size() == 1);
  CHECK_THROWS_AS(frame_view(source, plan, solids, {0, 1, 0}, {0, 0, 1}, {}), Fault);
}

TEST_CASE("mass, centre and inertia of two bodies by hand") {
  BuiltFrame solids;
  for (const double x : {-100.0, 100.0}) {
    shape::Built b = built("p", 1e6);  // a cube of 100 mm: m = V rho, I = m a^2 / 6 about each axis
    b.solid.quantities.centre_mm = {x, 0, 0};
    b.solid.quantities.inertia_mm5 = 1e6 * 1e4 / 6 * Eigen::Matrix3d::Identity();
    solids.parts.push_back(b);
  }
  const FrameMass m = mass_of(solids, {7.85e-6, 7.85e-6});
  CHECK(m.mass_kg == Approx(15.7));
  CHECK(m.centre_mm.norm() == Approx(0).margin(1e-9));
  CHECK(m.inertia_kg_m2(0, 0) == Approx(15.7 * 0.01 / 6));
  CHECK(m.inertia_kg_m2(2, 2) == Approx(15.7 * (0.01 / 6 + 0.01)));
  CHECK(m.inertia_kg_m2(0, 1) == Approx(0).margin(1e-12));
}

TEST_CASE("more bodies than anybody welds are refused") {
  Counting source;
  shape::Plan plan;
  plan.parts.assign(most_bodies + 1, tube("a"));
  try {
    frame_solids(source, plan, {});
    FAIL("not refused");
  } catch (const Fault& fault) {
    CHECK(std::string(fault.what()) == "shape.too-many");
  }
  CHECK(source.asked == 0);
}

}  // namespace seamwright::models
