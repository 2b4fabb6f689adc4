// SPDX-License-Identifier: GPL-3.0-or-later
#include <Eigen/Dense>
#include <Eigen/Geometry>
#include <cmath>
#include <random>

#include "tests/engine/frame/small_frames.h"

using namespace seamwright;
using namespace seamwright::frame;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// A braced box of random proportions with sections of every shape, cuts and offsets.
struct RandomFrame {
  std::mt19937 random;
  explicit RandomFrame(unsigned seed) : random(seed) {}
  double between(double a, double b) { return std::uniform_real_distribution<double>(a, b)(random); }
  Vec3 vector(double size) { return {between(-size, size), between(-size, size), between(-size, size)}; }

  Frame make() {
    Frame f;
    f.materials = {steel()};
    f.tubes = {{"round", RoundTube{34.9, 1.2}, "steel"},
               {"box", RectangularTube{40, 30, 2, 4}, "steel"},
               {"oval", FlatOvalTube{40, 25, 1.5}, "steel"},
               {"bar", SolidBar{16}, "steel"},
               {"plate", PlateStrip{40, 6}, "steel"}};
    for (int i = 0; i < 8; ++i)
      f.nodes.push_back(
          {std::to_string(i), Vec3(i & 1 ? 600 : 0, i & 2 ? 500 : 0, i & 4 ? 400 : 0) + vector(60)});
    const std::vector<std::pair<int, int>> pairs{{0, 1}, {1, 3}, {3, 2}, {2, 0}, {4, 5},
                                                 {5, 7}, {7, 6}, {6, 4}, {0, 4}, {1, 5},
                                                 {2, 6}, {3, 7}, {0, 5}, {3, 6}, {4, 7}};
    for (const auto& [a, b] : pairs) {
      Member m = member(std::to_string(f.members.size()), {std::to_string(a), std::to_string(b)});
      m.tube = f.tubes[f.members.size() % f.tubes.size()].id;
      m.up = vector(1);
      m.start_cut_mm = between(0, 30);
      m.end_cut_mm = between(0, 30);
      m.start_offset_mm = vector(10);
      m.end_offset_mm = vector(10);
      f.members.push_back(m);
    }
    f.supports = {{"0", clamped}, {"1", {false, true, true, false, false, false}}};
    return f;
  }
  LoadCase loads() {
    LoadCase c{"random", {}, 1};
    for (const int i : {2, 3, 5, 6, 7}) c.loads.push_back({std::to_string(i), vector(1000), vector(1e5)});
    return c;
  }
};

void turn(Frame& f, LoadCase& c, const Eigen::Matrix3d& r) {
  for (Node& n : f.nodes) n.position_mm = r * n.position_mm;
  for (Member& m : f.members) {
    m.up = Vec3(r * *m.up);
    m.start_offset_mm = r * m.start_offset_mm;
    m.end_offset_mm = r * m.end_offset_mm;
  }
  for (NodeLoad& l : c.loads) {
    l.force_n = r * l.force_n;
    l.moment_nmm = r * l.moment_nmm;
  }
}

}  // namespace

TEST_CASE("member forces do not depend on where the frame points") {
  for (unsigned seed = 1; seed <= 5; ++seed) {
    RandomFrame random(seed);
    Frame f = random.make();
    LoadCase c = random.loads();
    c.gravity_factor = 0;
    f.supports = {{"0", clamped}};  // supports along global axes would not turn with the frame
    const Assembly a = assemble(f, Footing::supports);
    const Eigen::VectorXd before =
        section_force_map(a) * Statics(a).solve(case_load(a, c)).displacements.col(0);
    const Eigen::Matrix3d r =
        Eigen::AngleAxisd(random.between(0.1, 3), random.vector(1).normalized()).toRotationMatrix();
    turn(f, c, r);
    const Assembly b = assemble(f, Footing::supports);
    const Eigen::VectorXd after =
        section_force_map(b) * Statics(b).solve(case_load(b, c)).displacements.col(0);
    CHECK((after - before).norm() < 1e-8 * before.norm());
  }
}

TEST_CASE("superposition and reciprocity") {
  for (unsigned seed = 11; seed <= 15; ++seed) {
    RandomFrame random(seed);
    const Assembly a = assemble(random.make(), Footing::supports);
    const Statics statics(a);
    Eigen::MatrixXd f(a.full_size, 3);
    f.col(0) = case_load(a, random.loads());
    f.col(1) = case_load(a, random.loads());
    f.col(2) = 2 * f.col(0) - 3 * f.col(1);
    const Solution s = statics.solve(f);
    const Eigen::VectorXd sum = 2 * s.displacements.col(0) - 3 * s.displacements.col(1);
    CHECK((s.displacements.col(2) - sum).norm() < 1e-9 * sum.norm());
    CHECK_THAT(f.col(0).dot(s.displacements.col(1)), WithinRel(f.col(1).dot(s.displacements.col(0)), 1e-9));
    CHECK(s.residual.maxCoeff() < 1e-9);
  }
}

TEST_CASE("reactions balance loads and weight") {
  RandomFrame random(21);
  const Frame f = random.make();
  const LoadCase c = random.loads();
  const Assembly a = assemble(f, Footing::supports);
  const Solution s = Statics(a).solve(case_load(a, c));
  Vec3 force = Vec3::Zero(), moment = Vec3::Zero();
  const Eigen::VectorXd all = case_load(a, c) + s.reactions.col(0);
  for (const Node& n : f.nodes) {
    const Eigen::VectorXd at_node = at(a, all, n.id);
    force += at_node.head<3>();
    moment += at_node.tail<3>() + n.position_mm.cross(Vec3(at_node.head<3>()));
  }
  CHECK(force.norm() < 1e-6);
  CHECK(moment.norm() < 1e-2);
}

TEST_CASE("weight is mass times gravity, without the rigid cuts") {
  Frame f = beam(RoundTube{34.9, 1.2}, {0, 0, 0}, {1000, 0, 0}, 2);
  const double area = section_properties(RoundTube{34.9, 1.2}, 0.3).properties.area_mm2;
  f.supports = {{"0", clamped}};
  const auto weight = [&] {
    const Assembly a = assemble(f, Footing::supports);
    return -gravity_load(a).dot(a.rise);
  };
  CHECK_THAT(weight(), WithinRel(area * 1e-6 * 7850 * 9.80665, 1e-9));
  f.members[0].start_cut_mm = 100;
  f.members[0].end_cut_mm = 50;
  CHECK_THAT(weight(), WithinRel(0.85 * area * 1e-6 * 7850 * 9.80665, 1e-9));
  LoadCase c{"twice", {}, 2};
  const Assembly a = assemble(f, Footing::supports);
  CHECK((case_load(a, c) - 2 * gravity_load(a)).norm() == 0);
}

TEST_CASE("section forces have the signs of the positive face") {
  Frame f = beam(RoundTube{34.9, 1.2}, {0, 0, 0}, {500, 0, 0}, 1);
  f.supports = {{"0", clamped}};
  const Assembly a = assemble(f, Footing::supports);
  // Local y is global z, local z is global -y.
  const Solution s = solve(f, force_at("1", {100, 0, 30}, {7000, 0, 0}));
  const Vector12 q = section_forces(a.elements[0], s.displacements.col(0));
  CHECK_THAT(q[0], WithinRel(100.0, 1e-9));  // tension at both ends
  CHECK_THAT(q[6], WithinRel(100.0, 1e-9));
  CHECK_THAT(q[1], WithinRel(30.0, 1e-9));
  CHECK_THAT(q[7], WithinRel(30.0, 1e-9));
  CHECK_THAT(q[3], WithinRel(7000.0, 1e-9));
  CHECK_THAT(q[9], WithinRel(7000.0, 1e-9));
  // An upward force at the tip lifts: tension at the bottom of the wall section, Mz = +P L about local z, 0
  // at the tip.
  CHECK_THAT(q[5], WithinRel(15000.0, 1e-9));
  CHECK_THAT(q[11], WithinAbs(0, 1e-6));
  CHECK((section_force_map(a) * s.displacements.col(0) - q).norm() < 1e-9 * q.norm());
}

TEST_CASE("a rigid cut stiffens the member and moves its section to the chord's face") {
  Frame f = beam(RoundTube{34.9, 1.2}, {0, 0, 0}, {600, 0, 0}, 1);
  f.supports = {{"0", clamped}};
  f.members[0].start_cut_mm = 20;
  Frame shorter = beam(RoundTube{34.9, 1.2}, {20, 0, 0}, {600, 0, 0}, 1);
  shorter.supports = {{"0", clamped}};
  const LoadCase c = force_at("1", {0, 200, 500});
  const Assembly a = assemble(f, Footing::supports);
  const Solution cut = solve(f, c), plain = solve(shorter, c);
  CHECK((cut.displacements.bottomRows(6) - plain.displacements.bottomRows(6)).norm() < 1e-9);
  CHECK_THAT(section_forces(a.elements[0], cut.displacements.col(0))[5], WithinRel(500.0 * 580, 1e-9));
}

TEST_CASE("an eccentric member bends by its force times the eccentricity") {
  Frame f = beam(RoundTube{34.9, 1.2}, {0, 0, 0}, {600, 0, 0}, 1);
  f.supports = {{"0", clamped}};
  f.members[0].start_offset_mm = f.members[0].end_offset_mm = {0, 0, 15};
  const Assembly a = assemble(f, Footing::supports);
  const Vector12 q =
      section_forces(a.elements[0], solve(f, force_at("1", {1000, 0, 0})).displacements.col(0));
  CHECK_THAT(q[0], WithinRel(1000.0, 1e-9));
  CHECK_THAT(std::abs(q[5]), WithinRel(15000.0, 1e-9));
  CHECK_THAT(q[11], WithinRel(q[5], 1e-9));
}

TEST_CASE("a braced triangle of links carries as a truss") {
  // Two links from a wall to a point: 3-4-5 triangle, load down at the point.
  Frame f = frame_of(SolidBar{10});
  f.nodes = {{"top", {0, 0, 300}}, {"low", {0, 0, 0}}, {"point", {400, 0, 0}}, {"side", {0, 300, 0}}};
  f.members = {member("tie", {"top", "point"}), member("strut", {"low", "point"}),
               member("stay", {"side", "point"})};
  for (Member& m : f.members) m.axial_only = true;
  const std::array<bool, 6> pinned{true, true, true, false, false, false};
  f.supports = {{"top", pinned}, {"low", pinned}, {"side", pinned}};
  const Assembly a = assemble(f, Footing::supports);
  const Solution s = solve(f, force_at("point", {0, 0, -600}));
  CHECK_THAT(section_forces(a.elements[0], s.displacements.col(0))[0], WithinRel(1000.0, 1e-9));
  CHECK_THAT(section_forces(a.elements[1], s.displacements.col(0))[0], WithinRel(-800.0, 1e-9));
  CHECK_THAT(section_forces(a.elements[2], s.displacements.col(0))[0], WithinAbs(0, 1e-9));
}
