// SPDX-License-Identifier: GPL-3.0-or-later
// A model scaled from a like joint's against the joint's own.
#include "engine/solid/scaled_model.h"

#include <catch2/catch.hpp>

#include "tests/published/solid/tee.h"

namespace seamwright::solid {

namespace {

const Tee base{40, 2, 120, {{25, 2, 90, 0, 0, 2.8, 3.2, false}}, 60, 1};

// Each section of a case begins with it.
const JointAnswer& base_answer() {
  static const JointAnswer answer = answered(task_of(base));
  return answer;
}

Eigen::VectorXd columns_of(const Tee& t, const JointAnswer& a, Load load) { return combined(a, {nominal_load(t.braces[0], load)}); }

// The largest around, of membrane plus bending.
double worst(const JointAnswer& a, const Eigen::VectorXd& load, std::initializer_list<SectionKind> kinds) {
  double most = 0;
  for (const SectionKind kind : kinds)
    for (const SectionStress& s : a.seams[0].sections[static_cast<std::size_t>(kind)]) most = std::max(most, std::abs((s.membrane + s.bending).dot(load)));
  return most;
}

void check_within(double ratio, double error) {
  CHECK(ratio < 1 + error);
  CHECK(ratio > 1 / (1 + error));
}

void compare_with_own(const JointLibrary& library, const Tee& changed) {
  const JointTask task = task_of(changed);
  const auto scaled = scaled_model(task, library);
  REQUIRE(scaled);
  const JointAnswer own = answered(task);
  for (Eigen::Index i = 0; i < own.flexibility.rows(); ++i)
    CHECK(scaled->answer.flexibility(i, i) / own.flexibility(i, i) == Approx(1).epsilon(0.15));
  for (const Load load : {Load::axial, Load::in_plane, Load::out_of_plane}) {
    CAPTURE(static_cast<int>(load));
    const Eigen::VectorXd of_scaled = columns_of(changed, scaled->answer, load), of_own = columns_of(changed, own, load);
    const auto ratio = [&](std::initializer_list<SectionKind> kinds) { return worst(scaled->answer, of_scaled, kinds) / worst(own, of_own, kinds); };
    check_within(ratio({SectionKind::throat, SectionKind::brace_leg, SectionKind::chord_leg}), scaled_root_error);
    check_within(ratio({SectionKind::chord_wall}), scaled_toe_error);
    check_within(ratio({SectionKind::brace_wall}), scaled_toe_error);
  }
}

}  // namespace

TEST_CASE("a joint answers by the model of a like one", "[night]") {
  JointLibrary library;
  library.models.emplace_back(task_of(base), base_answer());
  SECTION("its own model comes back") {
    const auto same = scaled_model(task_of(base), library);
    REQUIRE(same);
    CHECK(same->apart <= 0);
    const JointAnswer& own = library.models[0].second;
    CHECK((same->answer.flexibility - own.flexibility).norm() < 1e-9 * own.flexibility.norm());
    CHECK((same->answer.seams[0].sections[0][5].bending - own.seams[0].sections[0][5].bending).norm() <= 0);
  }
  Tee changed = base;
  SECTION("another wall of the chord") { changed.wall_mm = 2.5; }
  SECTION("another wall of the brace") { changed.braces[0].wall_mm = 1.5; }
  SECTION("another diameter of the brace") { changed.braces[0].diameter_mm = 28; }
  SECTION("another throat") { changed.braces[0].leg_crown_mm = 3.5, changed.braces[0].leg_saddle_mm = 4; }
  SECTION("sawn off elsewhere, and leaning") { changed.brace_length_mm = 75, changed.braces[0].angle_deg = 85; }
  compare_with_own(library, changed);
}

TEST_CASE("a scaled model takes the forces where they act now") {
  JointLibrary library;
  library.models.emplace_back(task_of(base), base_answer());
  Tee longer = base;
  longer.brace_length_mm = 75;
  const auto scaled = scaled_model(task_of(longer), library);
  REQUIRE(scaled);
  // A force across the longer brace's end is the same force at the modelled end, and a moment of force times 15 mm.
  Eigen::VectorXd now = Eigen::VectorXd::Zero(12), before = now;
  now.segment<3>(6) = before.segment<3>(6) = Vec3(100, 30, 0);
  before.segment<3>(9) = Vec3(0, 0, 15).cross(Vec3(100, 30, 0));
  const JointAnswer& model = library.models[0].second;
  for (std::size_t k = 0; k < 16; ++k) {
    const SectionStress &a = scaled->answer.seams[0].sections[4][k], &b = model.seams[0].sections[4][k];
    CHECK(a.bending.dot(now) == Approx(b.bending.dot(before)).margin(1e-9));
    const Toe &toe = scaled->answer.seams[0].chord_toes[k], &modelled = model.seams[0].chord_toes[k];
    CHECK(toe.readings[0].normal.dot(now) == Approx(modelled.readings[0].normal.dot(before)).margin(1e-9));
  }
  // The brace's end gives way more by the beam that is longer.
  CHECK(scaled->answer.flexibility(6, 6) > 1.2 * model.flexibility(6, 6));
}

TEST_CASE("a joint unlike all others has no scaled model") {
  JointLibrary library;
  JointAnswer any;
  any.flexibility = Eigen::MatrixXd::Identity(12, 12);
  library.models.emplace_back(task_of(base), any);
  Tee changed = base;
  SECTION("a second brace") { changed.braces.push_back({25, 2, 90, 180, 0, 2.8, 3.2, false}); }
  SECTION("twice the wall") { changed.wall_mm = 4; }
  SECTION("a fused root") { changed.braces[0].fused = true; }
  SECTION("no weld metal") { changed.braces[0].leg_crown_mm = changed.braces[0].leg_saddle_mm = 0; }
  SECTION("a leaning brace") { changed.braces[0].angle_deg = 60; }
  SECTION("a brace wider than its chord, for which no equation says anything") { changed.braces[0].diameter_mm = 38, changed.chord_mm = 37; }
  CHECK_FALSE(scaled_model(task_of(changed), library));
  CHECK_FALSE(scaled_model(task_of(base), {}));
}

}  // namespace seamwright::solid
