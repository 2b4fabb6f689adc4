// SPDX-License-Identifier: GPL-3.0-or-later
// A brace whose end is fused in part, between an open root and a fused one.
#include <catch2/catch.hpp>

#include "engine/solid/frame_joints.h"
#include "engine/solid/scaled_model.h"
#include "tests/published/outside/outside.h"
#include "tests/published/solid/tee.h"

namespace seamwright::solid {

namespace {

using outside::Expected;

const std::vector<Load> loads{Load::axial, Load::in_plane, Load::out_of_plane};

Tee tee_fused(double share, double angle_deg = 90) { return {40, 2, 120, {{25, 2, angle_deg, 0, 0, 2.8, 3.2, false, 2 * share}}, 60, 0.5}; }

// The largest around of membrane plus bending.
double largest(const Tee& t, const JointAnswer& a, Load load, std::initializer_list<SectionKind> kinds) {
  const Eigen::VectorXd columns = combined(a, {nominal_load(t.braces[0], load)});
  double most = 0;
  for (const SectionKind kind : kinds)
    for (const SectionStress& s : a.seams[0].sections[static_cast<std::size_t>(kind)]) most = std::max(most, std::abs((s.membrane + s.bending).dot(columns)));
  return most;
}

double largest_root(const Tee& t, const JointAnswer& a, Load load) {
  return largest(t, a, load, {SectionKind::throat, SectionKind::brace_leg, SectionKind::chord_leg});
}

double largest_intensity(const Tee& t, const JointAnswer& a, Load load) {
  const Eigen::VectorXd columns = combined(a, {nominal_load(t.braces[0], load)});
  double most = 0;
  for (const SlitTip& tip : a.seams[0].slit) most = std::max(most, std::hypot(tip.first.dot(columns), tip.second.dot(columns)));
  return most;
}

}  // namespace

TEST_CASE("the deeper a root is fused, the less its sections and its slit's tip carry", "[night]") {
  OURS;
  std::vector<Tee> tees;
  std::vector<JointAnswer> answers;
  for (const double share : {0.0, 0.3, 0.5, 0.7}) {
    tees.push_back(tee_fused(share));
    answers.push_back(answered(task_of(tees.back())));
    CHECK(answers.back().volume_mm3 / answers[0].volume_mm3 == Expected(1).epsilon(1e-4));  // the ring is of the brace's own steel
  }
  for (const Load load : loads) {
    for (std::size_t i = 1; i < answers.size(); ++i) {
      CAPTURE(static_cast<int>(load), i);
      CHECK(largest_intensity(tees[i], answers[i], load) < largest_intensity(tees[i - 1], answers[i - 1], load));
      // Under bending the root's own bending changes its sign on the way, so that only the axial load falls with each step.
      const double root = largest_root(tees[i], answers[i], load);
      if (load == Load::axial) CHECK(root < largest_root(tees[i - 1], answers[i - 1], load));
      CHECK(root < (load == Load::out_of_plane ? 1.2 : 1) * largest_root(tees[0], answers[0], load));
      // A throat that carried evenly all around would have this.
      if (load == Load::axial) CHECK(root > tees[i].braces[0].wall_mm / answers[i].seams[0].sections[0][0].length_mm);
      for (const auto& [kind, most] : {std::pair(SectionKind::chord_wall, 0.07), std::pair(SectionKind::brace_wall, 0.11)})
        CHECK(largest(tees[i], answers[i], load, {kind}) / largest(tees[0], answers[0], load, {kind}) == Expected(1).epsilon(most));
    }
  }
}

TEST_CASE("a model of another depth of fusion is scaled to like ones, and never to an open root", "[night]") {
  JointLibrary library;
  library.models.emplace_back(task_of(tee_fused(0.5)), answered(task_of(tee_fused(0.5))));
  const Tee deeper = tee_fused(0.6);
  const auto scaled = scaled_model(task_of(deeper), library);
  REQUIRE(scaled);
  const JointAnswer own = answered(task_of(deeper));
  for (const Load load : loads) {
    const double ratio = largest_root(deeper, scaled->answer, load) / largest_root(deeper, own, load);
    CAPTURE(static_cast<int>(load));
    CHECK(ratio < 1 + scaled_root_error);
    CHECK(ratio > 1 / (1 + scaled_root_error));
  }
  CHECK_FALSE(scaled_model(task_of(tee_fused(0)), library));
  CHECK_FALSE(scaled_model(with_open_roots(task_of(deeper)), library));
}

}  // namespace seamwright::solid
