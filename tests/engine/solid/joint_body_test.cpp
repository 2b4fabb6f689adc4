// SPDX-License-Identifier: GPL-3.0-or-later
// A joint's body in a frame: where it is made of the beams that it replaces, nothing changes.
#include <Eigen/Geometry>
#include <catch2/catch.hpp>

#include "engine/frame/element.h"
#include "engine/frame/statics.h"
#include "engine/sites/section_rows.h"
#include "engine/solid/joint_models.h"

namespace seamwright::solid {

namespace {

// A bent cantilever: A at the wall, then B, C and D, with a turn at C; a body around B and C.
frame::Frame cantilever() {
  frame::Frame f;
  f.materials = {{"steel", 206000, 0.3, 7850}};
  f.tubes = {{"t", frame::RoundTube{30, 2}, "steel"}};
  f.nodes = {{"A", {0, 0, 0}}, {"B", {300, 0, 0}}, {"C", {400, 0, 0}}, {"D", {600, 100, 50}}};
  frame::Member m;
  m.id = "m";
  m.tube = "t";
  m.nodes = {"A", "B", "C", "D"};
  f.members = {m};
  f.supports = {{"A", {true, true, true, true, true, true}}};
  f.cases = {{"load", {{"D", {100, -200, 300}, {1000, 2000, -500}}, {"B", {-50, 20, 10}, {0, 300, 0}}}, 0}};
  return f;
}

Eigen::Matrix<double, 12, 12> beam(const Vec3& from, const Vec3& to) {
  const frame::RoundTube section{30, 2};
  const auto axes = *frame::local_axes(to - from, std::nullopt);
  const auto to_local = frame::to_local_ends(axes, Vec3::Zero(), Vec3::Zero());
  return to_local.transpose() *
         frame::element_stiffness({frame::section_properties(section, 0.3).properties, 206000, 0.3, 0, (to - from).norm(), false}) * to_local;
}

// A library of one joint that answers with beams: ends at 250 mm and 60 mm beyond C, nodes B and C between.
ModelledJoint joint_of_beams(JointAnswer& answer, bool mirrored = false) {
  const Vec3 a(250, 0, 0), b(300, 0, 0), c(400, 0, 0), d = c + 60 * Vec3(200, 100, 50).normalized();
  Eigen::MatrixXd k = Eigen::MatrixXd::Zero(24, 24);  // ends a, d, then nodes b, c
  const auto add = [&](int i, int j, const Vec3& from, const Vec3& to) {
    const auto e = beam(from, to);
    const std::array<int, 2> at{6 * i, 6 * j};
    for (int x = 0; x < 2; ++x)
      for (int y = 0; y < 2; ++y) k.block<6, 6>(at[static_cast<std::size_t>(x)], at[static_cast<std::size_t>(y)]) += e.block<6, 6>(6 * x, 6 * y);
  };
  add(0, 2, a, b);
  add(2, 3, b, c);
  add(3, 1, c, d);
  answer.flexibility = k.bottomRightCorner(18, 18).inverse();
  // The task in axes of its own: turned and moved.
  ModelledJoint j;
  j.joint.id = "B";
  j.joint.nodes = {"B", "C"};
  j.joint.inside = {{"m", 250, 460, true, true}};
  j.joint.ends = {{"m", true, 250}, {"m", false, 460}};
  j.joint.origin_mm = b;
  j.joint.axes = Eigen::AngleAxisd(0.7, Vec3(1, 2, 3).normalized()).toRotationMatrix();
  if (mirrored) j.joint.axes.row(1) *= -1;
  const auto own = [&](const Vec3& p) { return Vec3(j.joint.axes * (p - b)); };
  j.joint.task.ends = {{0, own(a), {}}, {0, own(d), {}}};
  j.joint.task.seats = {{0, own(b)}, {0, own(c)}};
  Eigen::MatrixXd turn = Eigen::MatrixXd::Zero(18, 18);
  for (int i = 0; i < 18; i += 3) turn.block<3, 3>(i, i) = (mirrored && i % 6 == 3 ? -1 : 1) * j.joint.axes;  // moments are axial vectors
  answer.flexibility = (turn * answer.flexibility * turn.transpose()).eval();
  j.answer = &answer;
  return j;
}

}  // namespace

TEST_CASE("a body of beams changes neither displacements nor forces nor mass") {
  const bool mirrored = GENERATE(false, true);
  const frame::Frame plain = cantilever();
  JointAnswer answer;
  const std::vector<ModelledJoint> joints{joint_of_beams(answer, mirrored)};
  CHECK(joints[0].joint.mirrored() == mirrored);
  const frame::Frame with = with_bodies(plain, joints);
  REQUIRE(with.bodies.size() == 1);
  REQUIRE(with.bodies[0].ends.size() == 2);
  CHECK(with.bodies[0].ends[0].segment == 0);
  CHECK_FALSE(with.bodies[0].ends[0].at_start);
  CHECK(with.bodies[0].ends[1].segment == 2);
  REQUIRE(with.bodies[0].within.size() == 1);
  CHECK(with.bodies[0].within[0].segment == 1);
  const frame::Assembly a = frame::assemble(plain, frame::Footing::supports), b = frame::assemble(with, frame::Footing::supports);
  const Eigen::VectorXd ua = frame::Statics(a).solve(frame::case_load(a, plain.cases[0])).displacements,
                        ub = frame::Statics(b).solve(frame::case_load(b, plain.cases[0])).displacements;
  for (Eigen::Index i = 0; i < 24; ++i) CHECK(ub[i] == Approx(ua[i]).epsilon(1e-7).margin(1e-9));
  // Forces on the last member's end, which both have.
  const Eigen::VectorXd fa = frame::section_force_map(a) * ua, fb = frame::section_force_map(b) * ub;
  REQUIRE(fb.size() == 36 + 24);
  REQUIRE(fb.size() == frame::section_force_count(b));
  for (Eigen::Index i = 30; i < 36; ++i) CHECK(fb[i] == Approx(fa[i]).epsilon(1e-7).margin(1e-6));
  CHECK(fb.segment(12, 12).norm() == 0);  // the segment within is no beam
  CHECK(b.elements[1].within_body);
  CHECK(b.elements[0].after_mm == Approx(50));
  CHECK(b.elements[2].before_mm == Approx(60));
  // Sections at the ends of the beams as they are without the body read the same.
  const frame::Member& m = plain.members[0];
  for (const auto& [segment, at_start] : {std::pair(std::size_t{0}, false), {std::size_t{2}, true}}) {
    const sites::Station one = sites::station(a, m, segment, at_start), other = sites::station(b, m, segment, at_start);
    CHECK(other.beyond_mm != 0);
    const Vec3 out = one.element->axes.row(1) * 0.6 + one.element->axes.row(2) * 0.8;
    CHECK(sites::nominal(other, out, 15, fb.size()).dot(fb) == Approx(sites::nominal(one, out, 15, fa.size()).dot(fa)).epsilon(1e-7));
    const sites::Load before = sites::load_through(one, fa.size()), with_body = sites::load_through(other, fb.size());
    for (std::size_t i = 0; i < 6; ++i) CHECK(with_body[i].dot(fb) == Approx(before[i].dot(fa)).epsilon(1e-7).margin(1e-5));
  }
  CHECK(sites::station(b, m, 1, true).element == nullptr);
  // The forces that the body takes, in its own axes: at B the load that stands there; all in balance.
  const Eigen::Matrix3d& axes = joints[0].joint.axes;
  CHECK((axes.transpose() * fb.segment<3>(36 + 12) - Vec3(-50, 20, 10)).norm() < 1e-6);
  CHECK(((mirrored ? -1 : 1) * axes.transpose() * fb.segment<3>(36 + 15) - Vec3(0, 300, 0)).norm() < 1e-4);
  CHECK((fb.segment<3>(36) + fb.segment<3>(42) + fb.segment<3>(48) + fb.segment<3>(54)).norm() < 1e-6);
  // Weight: the same in all, and its moment.
  const Eigen::VectorXd ga = frame::gravity_load(a), gb = frame::gravity_load(b);
  double weight_a = 0, weight_b = 0, moment_a = 0, moment_b = 0;
  for (Eigen::Index n = 0; n < 6; ++n) {
    const double x = with.nodes[static_cast<std::size_t>(n)].position_mm.x();
    weight_b += gb[6 * n + 2];
    moment_b += x * gb[6 * n + 2] - gb[6 * n + 4];
    if (n < 4) {
      weight_a += ga[6 * n + 2];
      moment_a += x * ga[6 * n + 2] - ga[6 * n + 4];
    }
  }
  CHECK(weight_b == Approx(weight_a).epsilon(1e-9));
  CHECK(moment_b == Approx(moment_a).epsilon(1e-9));
}

TEST_CASE("a body's matrix must fit its places") {
  JointAnswer answer;
  frame::Frame with = with_bodies(cantilever(), {joint_of_beams(answer)});
  with.bodies[0].stiffness.conservativeResize(18, 18);
  CHECK_THROWS_AS(frame::assemble(with, frame::Footing::supports), Fault);
  with.bodies[0].stiffness = Eigen::MatrixXd::Constant(24, 24, std::nan(""));
  CHECK_THROWS_AS(frame::assemble(with, frame::Footing::supports), Fault);
}

}  // namespace seamwright::solid
