// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/frame/bodies.h"

#include <Eigen/Dense>
#include <cmath>
#include <numbers>

#include "tests/engine/frame/small_frames.h"

using namespace seamwright;
using namespace seamwright::frame;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double g = 9.80665;

Frame massless_cantilever() {
  Material m = steel();
  m.density_kg_m3 = 0;
  Frame f = beam(RoundTube{34.9, 1.2}, {0, 0, 0}, {600, 0, 0}, 1, m);
  f.supports = {{"0", clamped}};
  return f;
}

Eigen::VectorXd rigid_motion(const Frame& f, const Vec3& shift, const Vec3& turn) {
  Eigen::VectorXd u(6 * static_cast<Eigen::Index>(f.nodes.size()));
  for (std::size_t i = 0; i < f.nodes.size(); ++i)
    u.segment<6>(6 * static_cast<Eigen::Index>(i)) << shift + turn.cross(f.nodes[i].position_mm), turn;
  return u;
}

}  // namespace

TEST_CASE("a mass on an arm loads its node with force and moment") {
  Frame f = massless_cantilever();
  f.masses = {{"load", 10, {700, 50, 30}, {"1"}, {0, 0, 0}}};
  const Assembly a = assemble(f, Footing::supports);
  const Eigen::VectorXd load = at(a, gravity_load(a), "1");
  CHECK_THAT(load[2], WithinRel(-10 * g, 1e-12));
  CHECK_THAT(load[3], WithinRel(-10 * g * 50, 1e-12));
  CHECK_THAT(load[4], WithinRel(10 * g * 100, 1e-12));
  CHECK_THAT(load[5], WithinAbs(0, 1e-12));
}

TEST_CASE("a mass on an arm has its inertia by parallel axes") {
  Frame f = massless_cantilever();
  f.masses = {{"load", 10, {600, 0, 200}, {"1"}, {0.1, 0.2, 0.3}}};
  const Assembly a = assemble(f, Footing::supports);
  // kg m2 -> t mm2: 1e3.
  CHECK_THAT(a.mass.coeff(9, 9), WithinRel((0.1 + 10 * 0.04) * 1e3, 1e-12));
  CHECK_THAT(a.mass.coeff(10, 10), WithinRel((0.2 + 10 * 0.04) * 1e3, 1e-12));
  CHECK_THAT(a.mass.coeff(11, 11), WithinRel(0.3 * 1e3, 1e-12));
}

TEST_CASE("a body on several nodes keeps mass, place and inertia in rigid motion") {
  Material m = steel();
  m.density_kg_m3 = 0;
  Frame f = frame_of(RoundTube{34.9, 1.2}, m);
  f.nodes = {{"a", {0, 0, 0}}, {"b", {700, 20, 0}}, {"c", {650, 500, 40}}, {"d", {-20, 480, 10}}};
  f.members = {member("rim", {"a", "b", "c", "d", "a"})};
  const Vec3 centre(300, 200, 350);
  f.masses = {{"payload", 80, centre, {"a", "b", "c", "d"}, {3, 4, 5}}};
  const Assembly a = assemble(f, Footing::nothing);
  for (int i = 0; i < 3; ++i) {
    const Eigen::VectorXd shift = rigid_motion(f, Vec3::Unit(i), Vec3::Zero());
    CHECK_THAT(shift.dot(a.mass * shift), WithinRel(0.080, 1e-10));
    const Vec3 axis = Vec3::Unit(i);
    const Eigen::VectorXd turn = rigid_motion(f, Vec3::Zero(), axis);
    const double expected = f.masses[0].inertia_kg_m2[i] * 1e3 + 0.080 * axis.cross(centre).squaredNorm();
    CHECK_THAT(turn.dot(a.mass * turn), WithinRel(expected, 1e-10));
  }
  // It adds no stiffness, and its weight acts through its centre.
  Frame bare = f;
  bare.masses.clear();
  CHECK((assemble(bare, Footing::nothing).stiffness - a.stiffness).norm() == 0);
  const Eigen::VectorXd turn_y = rigid_motion(f, Vec3::Zero(), Vec3::UnitY());
  CHECK_THAT(gravity_load(a).dot(turn_y), WithinRel(80 * g * centre.x(), 1e-10));
}

TEST_CASE("least-squares motion of carriers that do not move rigidly") {
  // Four carriers of a square lifted as a saddle (+1 -1 +1 -1): the fitted body stays at rest.
  const std::vector<Eigen::Vector3d> square{{0, 0, 0}, {100, 0, 0}, {100, 100, 0}, {0, 100, 0}};
  const Eigen::MatrixXd w = carried_motion({50, 50, 80}, square);
  Eigen::VectorXd u = Eigen::VectorXd::Zero(24);
  for (int i = 0; i < 4; ++i) u[6 * i + 2] = i % 2 ? -1 : 1;
  CHECK((w * u).norm() < 1e-12);
  u.setZero();
  u[2] = 4;  // one corner lifted by 4: the middle rises by 1
  CHECK_THAT((w * u)[2], WithinRel(1.0, 1e-12));
  CHECK(carried_motion({0, 0, 0}, {{0, 0, 0}, {10, 0, 0}, {20, 0.001, 0}}).cols() == 0);
}

TEST_CASE("a sprung mass hangs on its springs and is carried otherwise") {
  Frame f = massless_cantilever();
  SprungMass rider{"rider", 60, {600, 0, 300}, "1", {{{0, 0, 2}, 5, 0.475}}};
  f.sprung_masses = {rider};
  const Assembly a = assemble(f, Footing::supports);
  REQUIRE(a.full_size == 13);
  const Solution s = Statics(a).solve(gravity_load(a));
  const double omega = 2 * std::numbers::pi * 5;
  // k = 60 (2 pi 5)^2 = 59217.6 N/m, c = 2 0.475 60 2 pi 5 = 1790.7 N s/m.
  CHECK_THAT(a.stiffness.coeff(12, 12), WithinAbs(59.2176, 5e-5));
  CHECK_THAT(a.damping.coeff(12, 12), WithinAbs(1.7907, 5e-5));
  CHECK_THAT(s.displacements(12, 0) - s.displacements(8, 0), WithinRel(-g * 1000 / (omega * omega), 1e-9));
  CHECK_THAT(at(a, s.reactions.col(0), "0")[2], WithinRel(60 * g, 1e-9));
  CHECK_THAT(-gravity_load(a).dot(a.rise), WithinRel(60 * g, 1e-12));
  // The mass moves along x and y with the node, on its arm; along z it does not load the node's own mass.
  CHECK_THAT(a.mass.coeff(6, 6), WithinRel(0.060, 1e-12));
  CHECK(a.mass.coeff(8, 8) == 0);
  CHECK_THAT(a.mass.coeff(10, 10), WithinRel(0.060 * 300 * 300, 1e-12));
}

TEST_CASE("a sprung mass on slanted springs keeps its whole weight") {
  Frame f = massless_cantilever();
  const Vec3 d1 = Vec3(1, 0, 2).normalized(), d2 = Vec3(0, 1, 0);
  f.sprung_masses = {{"rider", 60, {600, 100, 300}, "1", {{d1, 4, 0.3}, {d2, 2, 0.3}}}};
  const Assembly a = assemble(f, Footing::supports);
  CHECK(a.full_size == 14);
  CHECK_THAT(-gravity_load(a).dot(a.rise), WithinRel(60 * g, 1e-12));
  const Solution s = Statics(a).solve(gravity_load(a));
  const Eigen::VectorXd wall = at(a, s.reactions.col(0), "0");
  CHECK_THAT(wall[2], WithinRel(60 * g, 1e-9));
  CHECK_THAT(wall[0], WithinAbs(0, 1e-9));
  CHECK_THAT(wall[3], WithinRel(60 * g * 100, 1e-9));  // about x at the wall: r x f of the weight
  CHECK_THAT(wall[4], WithinRel(-60 * g * 600, 1e-9));
}

TEST_CASE("a sprung mass on a stiff ground has its own frequency") {
  Frame f = massless_cantilever();
  f.materials[0].youngs_mpa = 1e11;
  f.sprung_masses = {{"rider", 60, {600, 0, 0}, "1", {{{0, 0, 1}, 5, 0.475}}}};
  const Modes m = modes(assemble(f, Footing::supports), 10);
  REQUIRE(m.frequency_hz.size() == 1);
  CHECK_THAT(m.frequency_hz[0], WithinRel(5.0, 1e-4));
}

TEST_CASE("a damper works along its line") {
  Frame f = massless_cantilever();
  f.nodes.push_back({"2", {600, 300, 400}});
  f.members.push_back(member("post", {"1", "2"}));
  f.dampers = {{"steering", "0", "2", 2000}};
  const Assembly a = assemble(f, Footing::supports);
  const Vec3 line = Vec3(600, 300, 400).normalized();
  Eigen::VectorXd v = Eigen::VectorXd::Zero(a.full_size);
  v.segment<3>(12) = 3 * line;
  v.segment<3>(0) = line;
  const Eigen::VectorXd force = a.damping * v;  // 2000 N s/m = 2 N s/mm, closing speed 2 mm/s
  CHECK((force.segment<3>(12) - 4 * line).norm() < 1e-12);
  CHECK((force.segment<3>(0) + 4 * line).norm() < 1e-12);
  v.setZero();
  v.segment<3>(12) = line.cross(Vec3::UnitZ());
  CHECK((a.damping * v).norm() < 1e-12);
}

TEST_CASE("tyres hold the contact point up and sideways and not lengthwise") {
  Frame f = massless_cantilever();
  f.wheels = {{"R", "1", 250, 120, 70, 300, 40}};
  const Assembly a = assemble(f, Footing::tyres);
  REQUIRE(a.tyre_radial.cols() == 1);
  const Assembly bare = assemble(massless_cantilever(), Footing::nothing);
  const Eigen::MatrixXd tyre = Eigen::MatrixXd(a.stiffness - bare.stiffness);
  CHECK_THAT(tyre(8, 8), WithinRel(120.0, 1e-9));
  CHECK_THAT(tyre(7, 7), WithinRel(70.0, 1e-9));
  CHECK_THAT(tyre(9, 9), WithinRel(70.0 * 250 * 250, 1e-9));
  CHECK_THAT(tyre(7, 9),
             WithinRel(70.0 * 250, 1e-9));  // leaning to the right (+rx) moves the contact to the left (+y)
  CHECK(tyre.row(6).norm() == 0);
  CHECK(tyre.row(10).norm() == 0);
  CHECK_THAT(a.damping.coeff(8, 8), WithinRel(0.3, 1e-12));
  CHECK((a.tyre_radial.col(0) - Eigen::VectorXd::Unit(12, 8)).norm() == 0);
}
