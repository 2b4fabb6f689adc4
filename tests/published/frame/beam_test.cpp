// SPDX-License-Identifier: GPL-3.0-or-later
// Beams whose answers stand in handbooks: E = 205000 MPa, G = 80000 MPa, tube 34.9 x 1.2 mm. The closed forms
// are those of Young & Budynas, Roark's Formulas for Stress and Strain, table 8.1, with the shear term P L /
// (G As).
#include <Eigen/Dense>
#include <cmath>

#include "engine/frame/element.h"
#include "tests/engine/frame/small_frames.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::frame;
using seamwright::outside::WithinAbs;
using seamwright::outside::WithinRel;

namespace {

const RoundTube tube{34.9, 1.2};

Frame cantilever(const Vec3& end, int elements) {
  Frame f = beam(tube, Vec3::Zero(), end, elements);
  f.supports = {{"0", clamped}};
  return f;
}

}  // namespace

TEST_CASE("cantilever with an end force") {
  SOURCE(closed_form,
         "Young & Budynas, Roark's Formulas for Stress and Strain, table 8.1, with shear P L / (G As)",
         "digits of the evaluation");
  for (const int elements : {1, 3}) {
    const Frame f = cantilever({600, 0, 0}, elements);
    const Assembly a = assemble(f, Footing::supports);
    const Solution s = solve(f, force_at(std::to_string(elements), {0, 0, 500}));
    const Eigen::VectorXd tip = at(a, s.displacements.col(0), std::to_string(elements));
    CHECK_THAT(tip[2], WithinAbs(9.780185, 5e-6));
    CHECK_THAT(-tip[4], WithinAbs(0.0243113, 5e-8));
    CHECK(s.residual[0] < 1e-10);
    CHECK_THAT(at(a, s.reactions.col(0), "0")[2], WithinRel(-500.0, 1e-9));
    CHECK_THAT(at(a, s.reactions.col(0), "0")[4], WithinRel(300000.0, 1e-9));
  }
}

TEST_CASE("cantilever with a knee bends and twists") {
  SOURCE(closed_form, "P b^3 / 3EI + P a^3 / 3EI + P b^2 a / GJ + P (a + b) / (G As), from Roark table 8.1",
         "digits of the evaluation");
  // P b^3 / 3EI + P a^3 / 3EI + P b^2 a / GJ + P (a + b) / G As
  Frame f = frame_of(tube);
  f.nodes = {{"wall", {0, 0, 0}}, {"knee", {500, 0, 0}}, {"tip", {500, 300, 0}}};
  f.members = {member("pipe", {"wall", "knee", "tip"})};
  f.supports = {{"wall", clamped}};
  const Assembly a = assemble(f, Footing::supports);
  const Solution s = solve(f, force_at("tip", {0, 0, 300}));
  CHECK_THAT(at(a, s.displacements.col(0), "tip")[2], WithinAbs(8.822767, 5e-6));
  CHECK_THAT(std::abs(at(a, s.reactions.col(0), "wall")[3]), WithinRel(90000.0, 1e-9));
  CHECK_THAT(std::abs(section_forces(a.elements[0], s.displacements.col(0))[3]), WithinRel(90000.0, 1e-9));
}

// Przemieniecki, Theory of Matrix Structural Analysis (1968), section 5.6; L = 600 mm.
TEST_CASE("terms of the element's stiffness") {
  SOURCE(closed_form, "Przemieniecki, Theory of Matrix Structural Analysis (1968), section 5.6",
         "digits of the evaluation");
  const Assembly a = assemble(cantilever({600, 0, 0}, 1), Footing::supports);
  const Matrix12& k = a.elements[0].stiffness;
  CHECK_THAT(k(0, 0), WithinAbs(43407.4, 0.05));
  CHECK_THAT(k(1, 1), WithinAbs(201.061, 5e-4));
  CHECK_THAT(k(1, 5), WithinAbs(60318.3, 0.05));
  CHECK_THAT(k(5, 5), WithinAbs(24265475.5, 0.05));
  CHECK_THAT(k(5, 11), WithinAbs(11925515.4, 0.05));
  CHECK_THAT(k(3, 3), WithinAbs(4815594.2, 0.05));
  CHECK_THAT(k(2, 4), WithinAbs(-60318.3, 0.05));
}

// Fixed at both ends, P = 1000 N at 150 of 400 mm: M1 = P a b (b + Phi L / 2) / (L^2 (1 + Phi)) and the
// mirror image.
TEST_CASE("beam fixed at both ends with a force off its middle") {
  SOURCE(closed_form, "P a b (b + Phi L / 2) / (L^2 (1 + Phi)), beam with shear; derived",
         "digits of the evaluation");
  Frame f = frame_of(tube);
  f.nodes = {{"left", {0, 0, 0}}, {"load", {150, 0, 0}}, {"right", {400, 0, 0}}};
  f.members = {member("beam", {"left", "load", "right"})};
  f.supports = {{"left", clamped}, {"right", clamped}};
  const Assembly a = assemble(f, Footing::supports);
  const Solution s = solve(f, force_at("load", {0, -1000, 0}));
  const auto left = at(a, s.reactions.col(0), "left"), right = at(a, s.reactions.col(0), "right");
  CHECK_THAT(left[5], WithinRel(58019.452, 1e-7));
  CHECK_THAT(-right[5], WithinRel(35730.548, 1e-7));
  CHECK_THAT(left[1], WithinRel(680.7223, 1e-7));
}

// Propped cantilever, L = 1000, P = 1000 at the middle, without shear: wall moment 3 P L / 16, prop 5 P / 16.
TEST_CASE("propped cantilever by a hinge at its prop") {
  SOURCE(closed_form, "Propped cantilever: wall moment 3 P L / 16, prop 5 P / 16",
         "the stiffness that stands for no shear is finite");
  Material thin_shear = steel();
  thin_shear.youngs_mpa = 1e9;
  Frame f = frame_of(SolidBar{1}, thin_shear);
  f.nodes = {{"wall", {0, 0, 0}},
             {"load", {500, 0, 0}},
             {"end", {1000, 0, 0}},
             {"prop", {1000, 0, 0}},
             {"ground", {1000, 0, -10}}};
  f.members = {member("beam", {"wall", "load", "end"}), member("post", {"prop", "ground"})};
  f.hinges = {{"pin", "prop", "end", {0, 1, 0}}};
  f.supports = {{"wall", clamped}, {"prop", clamped}, {"ground", clamped}};
  const Assembly a = assemble(f, Footing::supports);
  const Solution s = solve(f, force_at("load", {0, 0, -1000}));
  CHECK_THAT(std::abs(at(a, s.reactions.col(0), "wall")[4]), WithinRel(187500.0, 1e-5));
  CHECK_THAT(at(a, s.reactions.col(0), "prop")[2], WithinRel(312.5, 1e-5));
  const Vector12 forces = section_forces(a.elements[1], s.displacements.col(0));
  CHECK_THAT(forces[10], WithinAbs(0, 1e-3));
}
