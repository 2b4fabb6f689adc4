// SPDX-License-Identifier: GPL-3.0-or-later
// Strength checks of the tee and of a strut against the formulas by hand.
#include "catalog/published/published_data.h"
#include "engine/strength/strength_checks.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "engine/design/weld_geometry.h"
#include "engine/frame/slender.h"
#include "engine/frame/statics.h"
#include "engine/joints/resistance.h"
#include "tests/engine/rating/short_demo.h"
#include "tests/engine/rating/tee.h"

using namespace seamwright;
using namespace seamwright::strength;
using namespace seamwright::rating;

namespace {

std::vector<StrengthCheck> checks_under(const design::Design& design, const frame::Vec3& force,
                                        const frame::Vec3& moment) {
  design::Design held = design;
  held.frame.supports = {{"A", {true, true, true, true, true, true}},
                         {"B", {true, true, true, true, true, true}}};
  const frame::Frame cut = design::frame_with_cuts(held);
  const frame::Assembly assembly = frame::assemble(cut, frame::Footing::supports);
  frame::LoadCase load;
  load.id = "top";
  load.loads = {{"T", force, moment}};
  const auto u = frame::Statics(assembly).solve(frame::case_load(assembly, load)).displacements;
  const Eigen::VectorXd forces = frame::section_force_map(assembly) * u.col(0);
  return strength_checks(strength_model(held, cut, assembly, published::catalog().data), forces);
}

const StrengthCheck* of(const std::vector<StrengthCheck>& all, const std::string& kind) {
  const auto at = std::find_if(all.begin(), all.end(), [&](const auto& c) { return c.kind == kind; });
  return at == all.end() ? nullptr : &*at;
}

design::Design strong_tee() {
  design::Design d = tee();
  d.frame.materials[0].yield_mpa = 355;
  d.frame.materials[0].ultimate_mpa = 510;
  return d;
}

using std::numbers::pi;
const double brace_area = pi / 4 * (30 * 30 - 26 * 26);

}  // namespace

TEST_CASE("without strengths nothing is checked") {
  CHECK(checks_under(tee(), {0, 0, 1000}, {0, 0, 0}).empty());
}

TEST_CASE("a pulled brace: member, joint, weld") {
  const double force = 20000;
  const auto all = checks_under(strong_tee(), {0, 0, force}, {0, 0, 0});
  joints::TubeJoint j;
  j.chord_diameter_mm = 60;
  j.chord_wall_mm = 3;
  j.brace_diameter_mm = 30;
  j.brace_wall_mm = 2;
  j.chord_yield_mpa = 355;
  const StrengthCheck* joint = of(all, "tube-joint");
  REQUIRE(joint);
  // The chord bends under the pull as a beam fixed at both ends, and its compressed side counts.
  const double modulus = pi / 32 * (std::pow(60.0, 4) - std::pow(54.0, 4)) / 60;
  j.chord_stress_ratio = force * 800 / 8 / modulus / 355;
  CHECK(joint->use == Approx(force / joints::tube_joint_resistance(j).axial_n).epsilon(0.01));
  const StrengthCheck* weld = of(all, "weld-directional");
  REQUIRE(weld);
  // Throat 2 on a wall of 2: the wall's stress across the throat, half of it squared normal, half shear.
  const double across = force / brace_area, part = across / std::sqrt(2.0);
  CHECK(weld->use == Approx(std::sqrt(part * part + 3 * part * part) / (510 / 1.25)).epsilon(1e-6));
  CHECK(of(all, "weld-simplified")->use == Approx(across / (510 / (std::sqrt(3.0) * 1.25))).epsilon(1e-6));
  CHECK(of(all, "heat-affected-zone") == nullptr);
  CHECK(of(all, "thin-wall")->use == Approx(20.0 / (90 * 235.0 / 355)).epsilon(1e-9));
}

TEST_CASE("the softened zone at a weld is held against its own strength") {
  design::Design d = strong_tee();
  d.frame.materials[0].haz_yield_mpa = 280;
  const auto all = checks_under(d, {0, 0, 10000}, {0, 0, 0});
  REQUIRE(of(all, "heat-affected-zone"));
  // The chord at the node has the bending of a beam fixed at both ends; the brace its pull.
  CHECK(of(all, "heat-affected-zone")->use >= 10000 / brace_area / 280 * (1 - 1e-9));
  CHECK(of(all, "heat-affected-zone")->evidence.inputs[1].value == 280);
}

TEST_CASE("a pressed brace buckles by the curve for hot-finished tubes") {
  design::Design d = strong_tee();
  d.frame.nodes[3].position_mm = {400, 0, 900};
  const double force = 15000;
  const auto all = checks_under(d, {0, 0, -force}, {0, 0, 0});
  const StrengthCheck* b = of(all, "buckling");
  REQUIRE(b);
  const double i = pi / 64 * (std::pow(30.0, 4) - std::pow(26.0, 4));
  CHECK(b->subject == "b");
  CHECK(b->use == Approx(force / frame::flexural_buckling(brace_area, i, 210000, 355, 900, 0.21).resistance_n)
                      .epsilon(1e-6));
  CHECK(of(checks_under(d, {0, 0, force}, {0, 0, 0}), "buckling") == nullptr);
}

TEST_CASE("a weaker filler weakens the weld, an unstated strength leaves it out") {
  design::Design d = strong_tee();
  d.welds[0].filler_ultimate_mpa = 400;
  const double weak = of(checks_under(d, {0, 0, 9000}, {0, 0, 0}), "weld-directional")->use;
  d.welds[0].filler_ultimate_mpa = 900;  // no stronger than the parent metal
  CHECK(weak == Approx(of(checks_under(d, {0, 0, 9000}, {0, 0, 0}), "weld-directional")->use * 510 / 400));
  d.frame.materials[0].ultimate_mpa = 0;
  CHECK(of(checks_under(d, {0, 0, 9000}, {0, 0, 0}), "weld-directional") == nullptr);
}

TEST_CASE("bolts: tension against their resistance and against what is left of the preload") {
  design::Design d = strong_tee();
  design::BoltCircle b;
  b.id = "BC";
  b.member = "b";
  b.thread = {8, 1.25};
  b.count = 4;
  b.circle_mm = 50;
  b.ultimate_mpa = 800;
  b.preload_n = 8000;
  b.loss_percent = 25;
  d.bolts = {b};
  const auto all = checks_under(d, {0, 0, 12000}, {0, 0, 0});
  CHECK(of(all, "bolt-gap")->use == Approx(3000.0 / 6000).epsilon(1e-6));
  CHECK(of(all, "bolt")->use == Approx(3000 / (0.9 * 800 * 36.61 / 1.25)).epsilon(1e-3));
  CHECK(of(checks_under(d, {0, 0, -12000}, {0, 0, 0}), "bolt-gap")->use == 0);
}
