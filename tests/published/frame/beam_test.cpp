// SPDX-License-Identifier: GPL-3.0-or-later
// Beams whose answers stand in handbooks: E = 205000 MPa, G = 80000 MPa, tube 34.9 x 1.2 mm. The closed forms
// are those of Young & Budynas, Roark's Formulas for Stress and Strain, table 8.1, with the shear term P L /
// (G As).
#include <Eigen/Dense>
#include <cmath>

#include "engine/frame/element.h"
#include "tests/engine/frame/builders.h"

using namespace seamwright;
using namespace seamwright::frame;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

const RoundTube tube{34.9, 1.2};

Frame cantilever(const Vec3& end, int elements) {
  Frame f = beam(tube, Vec3::Zero(), end, elements);
  f.supports = {{"0", clamped}};
  return f;
}

}  // namespace

TEST_CASE("cantilever with an end force") {
  for (const int elements : {1, 3}) {
    const Frame f = cantilever({600, 0, 0}, elements);
    const Assembly a = assemble(f, On::supports);
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
  // P b^3 / 3EI + P a^3 / 3EI + P b^2 a / GJ + P (a + b) / G As
  Frame f = frame_of(tube);
  f.nodes = {{"wall", {0, 0, 0}}, {"knee", {500, 0, 0}}, {"tip", {500, 300, 0}}};
  f.members = {member("pipe", {"wall", "knee", "tip"})};
  f.supports = {{"wall", clamped}};
  const Assembly a = assemble(f, On::supports);
  const Solution s = solve(f, force_at("tip", {0, 0, 300}));
  CHECK_THAT(at(a, s.displacements.col(0), "tip")[2], WithinAbs(8.822767, 5e-6));
  CHECK_THAT(std::abs(at(a, s.reactions.col(0), "wall")[3]), WithinRel(90000.0, 1e-9));
  CHECK_THAT(std::abs(section_forces(a.elements[0], s.displacements.col(0))[3]), WithinRel(90000.0, 1e-9));
}
