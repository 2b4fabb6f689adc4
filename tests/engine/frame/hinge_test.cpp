// SPDX-License-Identifier: GPL-3.0-or-later
#include <Eigen/Dense>
#include <Eigen/Geometry>
#include <cmath>

#include "tests/engine/frame/trike.h"

using namespace seamwright;
using namespace seamwright::frame;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// Wall - hinge - arm, with a torsion-free link that holds the arm.
Frame hinged_arm(const Vec3& axis) {
  Frame f = frame_of(RoundTube{34.9, 1.2});
  f.nodes = {{"wall", {0, 0, 0}},  {"a", {300, 0, 0}},         {"b", {300, 0, 0}},
             {"tip", {600, 0, 0}}, {"anchor", {300, 200, 50}}, {"side", {600, 250, 60}}};
  f.members = {member("root", {"wall", "a"}), member("arm", {"b", "tip"}), member("post", {"a", "anchor"}),
               member("outrigger", {"tip", "side"}), member("link", {"anchor", "side"})};
  f.members.back().axial_only = true;
  f.hinges = {{"pin", "a", "b", axis}};
  f.supports = {{"wall", clamped}};
  return f;
}

}  // namespace

TEST_CASE("a hinge passes every force and moment but the one about its axis") {
  const Vec3 axis = Vec3(0.3, -0.2, 1);
  const Frame f = hinged_arm(axis);
  const Assembly a = assemble(f, Footing::supports);
  const Solution s = Statics(a).solve(case_load(a, force_at("tip", {50, 120, -300}, {2000, 4000, -9000})));
  const Eigen::VectorXd u = s.displacements.col(0), left = at(a, u, "a"), right = at(a, u, "b");
  CHECK((left.head<3>() - right.head<3>()).norm() == 0);
  const Vec3 turn = right.tail<3>() - left.tail<3>();
  CHECK(turn.norm() > 1e-6);
  CHECK(turn.cross(axis.normalized()).norm() < 1e-12 * turn.norm() + 1e-18);
  // Moment on the arm at the hinge about the axis, in global axes.
  const Element& arm = a.elements[1];
  const Vector12 q = section_forces(arm, u);
  const Vec3 moment = arm.axes.transpose() * Vec3(q.segment<3>(3));
  CHECK(moment.norm() > 1000);
  CHECK(std::abs(moment.dot(axis.normalized())) < 1e-7 * moment.norm());
  CHECK(s.residual[0] < 1e-9);
}

TEST_CASE("a hinge locked by equal nodes gives the answer of one node") {
  // Bending about y does not load a hinge about z.
  Frame f = frame_of(RoundTube{34.9, 1.2});
  f.nodes = {{"wall", {0, 0, 0}},
             {"a", {300, 0, 0}},
             {"b", {300, 0, 0}},
             {"tip", {600, 0, 0}},
             {"far", {900, 0, 0}}};
  f.members = {member("one", {"wall", "a"}), member("two", {"b", "tip"}), member("three", {"tip", "far"})};
  f.hinges = {{"pin", "a", "b", {0, 0, 1}}};
  f.supports = {{"wall", clamped}, {"far", {false, true, false, false, false, false}}};
  const Assembly a = assemble(f, Footing::supports);
  const Solution s = Statics(a).solve(case_load(a, force_at("far", {0, 0, 100})));
  Frame whole = beam(RoundTube{34.9, 1.2}, {0, 0, 0}, {900, 0, 0}, 3);
  whole.supports = {{"0", clamped}};
  const Solution t = solve(whole, force_at("3", {0, 0, 100}));
  CHECK_THAT(at(a, s.displacements.col(0), "far")[2], WithinRel(t.displacements(20, 0), 1e-9));
}

TEST_CASE("two hinges in a chain make a universal joint") {
  Frame f = frame_of(RoundTube{34.9, 1.2});
  f.nodes = {
      {"wall", {0, 0, 0}}, {"a", {300, 0, 0}}, {"b", {300, 0, 0}}, {"c", {300, 0, 0}}, {"far", {600, 0, 0}}};
  f.members = {member("one", {"wall", "a"}), member("two", {"c", "far"})};
  f.hinges = {{"inner", "b", "c", {0, 0, 1}}, {"outer", "a", "b", {0, 1, 0}}};
  f.supports = {{"wall", clamped}, {"far", {false, true, true, false, false, false}}};
  const Assembly a = assemble(f, Footing::supports);
  CHECK(a.hinges.size() == 2);
  // Torque passes; bending does not: the far end is a simple support of a bar that carries a middle force
  // half and half.
  const Solution s = Statics(a).solve(case_load(a, force_at("far", {0, 0, 0}, {5000, 0, 0})));
  CHECK_THAT(at(a, s.reactions.col(0), "wall")[3], WithinRel(-5000.0, 1e-9));
  const Solution t = Statics(a).solve(case_load(a, force_at("c", {0, 0, -100})));
  CHECK_THAT(at(a, t.reactions.col(0), "far")[2], WithinAbs(0, 1e-9));
  CHECK_THAT(at(a, t.reactions.col(0), "wall")[4], WithinRel(-100.0 * 300, 1e-9));
}

TEST_CASE("the steered trike stands on its tyres") {
  const Frame f = trike();
  const Assembly a = assemble(f, Footing::tyres);
  const Solution s = Statics(a).solve(gravity_load(a));
  const Eigen::VectorXd force =
      -(a.tyre_radial.transpose() * s.displacements.col(0)).cwiseProduct(a.tyre_stiffness);
  const double weight = -gravity_load(a).dot(a.rise);
  CHECK_THAT(force.sum(), WithinRel(weight, 1e-9));
  CHECK_THAT(s.reactions.cwiseAbs().maxCoeff(), WithinAbs(0, 1e-6));
  CHECK_THAT(force[0], WithinRel(force[1], 0.05));
  CHECK(s.residual[0] < 1e-9);
}
