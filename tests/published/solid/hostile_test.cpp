// SPDX-License-Identifier: GPL-3.0-or-later
// Joints that nobody should ask for: each gets a model, or a refusal in plain words, and never a wrong number in silence.
#include <catch2/catch.hpp>
#include <chrono>

#include "engine/shape/kernel/kernel.h"
#include "tests/published/solid/tee.h"

namespace seamwright::solid {

namespace {

struct Outcome {
  std::string refused;  ///< "" for a model
  JointAnswer answer;
};

Outcome tried(const Tee& t) {
  Outcome out;
  const auto begin = std::chrono::steady_clock::now();
  out.refused = shape::kernel::failure_of([&] { out.answer = answered(task_of(t)); });
  UNSCOPED_INFO("refused: " << out.refused << ", after " << std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count() << " s");
  return out;
}

// A model's numbers are sound: its volume is that of the solids, the load arrives, energy is positive.
void check_model(const Outcome& o) {
  REQUIRE(o.refused == "");
  CHECK(o.answer.volume_mm3 / o.answer.planned_mm3 == Approx(1).epsilon(0.005));
  CHECK(o.answer.reaction < 1e-6);
  CHECK(o.answer.flexibility.selfadjointView<Eigen::Lower>().eigenvalues().minCoeff() > 0);
}

}  // namespace

TEST_CASE("odd joints get a model", "[night]") {
  SECTION("a brace nearly as wide as its chord") { check_model(tried({30, 2, 70, {{28.8, 1.5, 90, 0, 0, 2.8, 5.6, false}}, 50, 1})); }
  SECTION("15 degrees") { check_model(tried({50, 2.5, 160, {{25, 2, 15, 0, 0, 2.8, 3.5, false}}, 160, 1})); }
  SECTION("a brace nearly as wide as its chord, fused in part") { check_model(tried({30, 2, 70, {{28.8, 1.5, 90, 0, 0, 2.8, 5.6, false, 0.8}}, 50, 1})); }
  SECTION("near neighbours, one of them fused as deep as counts and the other hardly") {
    check_model(tried({50, 2.5, 130, {{30, 2, 55, 0, 10, 2.8, 3.5, false, 1.7}, {25, 2, 125, 0, -25, 2.8, 3.5, false, 0.3}}, 90, 1}));
  }
  SECTION("walls of half a millimetre") { check_model(tried({30, 0.5, 60, {{20, 0.5, 90, 0, 0, 1, 1.4, false}}, 40, 1.5})); }
  SECTION("a weld larger than the wall is thick") { check_model(tried({40, 1, 80, {{25, 1, 90, 0, 0, 9, 12, false}}, 60, 1.5})); }
  SECTION("seven braces at a node") {
    Tee t{60, 2.5, 130, {}, 80, 1.5};
    for (int i = 0; i < 7; ++i) t.braces.push_back({16, 1.5, 90, i * 51.4, 0, 2.1, 2.4, false});
    check_model(tried(t));
  }
}

TEST_CASE("impossible joints are refused in words") {
  SECTION("a brace as wide as its chord has no fillet all around") {
    const Outcome o = tried({30, 2, 70, {{30, 2, 90, 0, 0, 2.8, 4, false}}, 50, 1});
    CHECK(o.refused != "");
  }
  SECTION("braces that lie in each other") {
    const Outcome o = tried({50, 2.5, 120, {{30, 2, 90, 0, 0, 2.8, 3.5, false}, {30, 2, 90, 0, 8, 2.8, 3.5, false}}, 80, 1});
    CHECK(o.refused.find("lies in another") != std::string::npos);
  }
  SECTION("a brace wider than its chord") {
    const Outcome o = tried({30, 2, 70, {{40, 2, 90, 0, 0, 2.8, 4, false}}, 60, 1});
    CHECK(o.refused != "");
  }
  SECTION("a fillet that holds nothing: the tubes hang free") {
    JointTask task = task_of({40, 2, 80, {{25, 2, 90, 0, 0, 2.8, 3.5, false}}, 60, 1});
    task.seams[0].bare = true;
    MeshedJoint joint = mesher::mesh_of(task);
    task.seams[0].bare = false;  // neither weld metal nor fused
    CHECK_THROWS_WITH(joint_answer(task, std::move(joint), mesher::solve), Catch::Contains("hangs free"));
  }
}

}  // namespace seamwright::solid
