// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/frame/mechanism.h"

#include "tests/engine/frame/trike.h"

using namespace seamwright;
using namespace seamwright::frame;

namespace {

Message refused(const Frame& f, Footing on) {
  const Assembly a = assemble(f, on);
  return fault_of([&] { Statics{a}; });
}

}  // namespace

TEST_CASE("a frame without supports is a mechanism") {
  CHECK(refused(beam(RoundTube{34.9, 1.2}, {0, 0, 0}, {600, 0, 0}, 3), Footing::supports).id ==
        "frame.mechanism");
  CHECK(refused(beam(RoundTube{34.9, 1.2}, {0, 0, 0}, {600, 0, 0}, 3), Footing::nothing).id ==
        "frame.mechanism");
}

TEST_CASE("a beam free along its axis names the direction and the members") {
  Frame f = beam(RoundTube{34.9, 1.2}, {0, 0, 0}, {600, 0, 0}, 2);
  f.supports = {{"0", {false, true, true, true, true, true}}};
  const Message m = refused(f, Footing::supports);
  CHECK(m.id == "frame.mechanism");
  CHECK(text_of(m, "direction") == "ux");
  CHECK(text_of(m, "node") == "0");
  CHECK(text_of(m, "members") == "beam/1");
}

TEST_CASE("a beam free to spin names the rotation") {
  Frame f = beam(RoundTube{34.9, 1.2}, {0, 0, 0}, {0, 600, 0}, 2);
  f.supports = {{"0", {true, true, true, false, false, false}},
                {"2", {true, false, true, false, false, false}}};
  const Message m = refused(f, Footing::supports);
  CHECK(m.id == "frame.mechanism");
  CHECK(text_of(m, "direction") == "rotation about y");
}

TEST_CASE("a joint of two links in line gives way sideways") {
  Frame f = frame_of(SolidBar{10});
  f.nodes = {{"a", {0, 0, 0}}, {"b", {300, 0, 0}}, {"c", {600, 0, 0}}, {"d", {300, 300, 0}}};
  f.members = {member("one", {"a", "b"}), member("two", {"b", "c"}), member("three", {"b", "d"})};
  for (Member& m : f.members) m.axial_only = true;
  const std::array<bool, 6> pinned{true, true, true, false, false, false};
  f.supports = {{"a", pinned}, {"c", pinned}, {"d", pinned}};
  const Message m = refused(f, Footing::supports);
  CHECK(m.id == "frame.mechanism");
  CHECK(text_of(m, "node") == "b");
  CHECK(text_of(m, "direction") == "uz");
  CHECK(text_of(m, "members") == "one, two, three");
}

TEST_CASE("a hinge that nothing links is named") {
  Frame f = trike();
  CHECK_NOTHROW(Statics(assemble(f, Footing::tyres)));
  f.members.pop_back();  // the steering link
  const Message m = refused(f, Footing::tyres);
  CHECK(m.id == "frame.unlinked-hinge");
  CHECK(text_of(m, "hinge") == "steering");
}

TEST_CASE("a wheel that is missing is a mechanism and not a hinge's fault") {
  Frame f = trike();
  f.wheels.pop_back();
  const Message m = refused(f, Footing::tyres);
  CHECK(m.id == "frame.mechanism");
  Frame loose = trike();
  for (Wheel& w : loose.wheels) w.lateral_n_mm = 0;
  CHECK(refused(loose, Footing::tyres).id == "frame.mechanism");
}

TEST_CASE("slender and soft frames are not taken for mechanisms") {
  Frame fine = beam(RoundTube{34.9, 1.2}, {0, 0, 0}, {3000, 0, 0}, 200);
  fine.supports = {{"0", clamped}};
  const Solution s = solve(fine, force_at("200", {0, 0, -1}));
  CHECK(s.displacements(6 * 200 + 2, 0) ==
        Approx(-3000.0 * 3000 * 3000 / (3 * 205000 * 18058.4)).epsilon(1e-3));
  Frame soft = trike();
  for (Wheel& w : soft.wheels) w.lateral_n_mm = 1e-3;
  const Assembly a = assemble(soft, Footing::tyres);
  CHECK(Statics(a).solve(gravity_load(a)).residual[0] < 1e-7);
}

TEST_CASE("free motions of a matrix") {
  SparseMatrix whole(3, 3), loose(3, 3);
  whole.setIdentity();
  loose.setIdentity();
  loose.coeffRef(0, 1) = loose.coeffRef(1, 0) = -1;  // (1 1 0) is free
  CHECK(free_motions(whole).cols() == 0);
  const Eigen::MatrixXd found = free_motions(loose);
  REQUIRE(found.cols() == 1);
  CHECK(std::abs(found(0, 0) - found(1, 0)) < 1e-9);
  CHECK(std::abs(found(2, 0)) < 1e-9);
}
