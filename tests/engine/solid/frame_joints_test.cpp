// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/solid/frame_joints.h"

#include <catch2/catch.hpp>

#include "engine/solid/joint_models.h"
#include "engine/solid/seam_path.h"
#include "engine/shape/fibre.h"
#include "tests/engine/shape/jointed.h"

namespace seamwright::solid {

namespace {

using shape::member;
using shape::node;
using shape::weld;

const JointOptions options{1, nullptr};

const Inside& inside_of(const FrameJoint& j, const std::string& id) {
  for (const Inside& in : j.inside)
    if (in.member == id) return in;
  FAIL("not in the joint: " << id);
  return j.inside.front();
}

// A second brace on the chord, so far along it, upright or hanging.
void add_brace(design::Design& d, const std::string& id, double x, double z) {
  const std::string foot = node(d.frame, "foot-" + id, shape::Vec3(x, 0, 0));
  std::vector<std::string>& chord = d.frame.members[0].nodes;
  chord.insert(x > 0 ? chord.end() - 1 : chord.begin() + 1, foot);
  member(d.frame, id, "B", {foot, node(d.frame, "top-" + id, shape::Vec3(x, 0, z))});
  d.welds.push_back(weld("W-" + id, id, foot, "chord"));
}

}  // namespace

TEST_CASE("a tee's chord is sawn off two diameters beyond the toes, its brace one") {
  const design::Design d = shape::tee(40, 25, 2);
  const FrameJoints all = frame_joints(d, options);
  CHECK(all.without.empty());
  REQUIRE(all.joints.size() == 1);
  const FrameJoint& j = all.joints[0];
  CHECK(j.id == "o");
  CHECK(j.welds == std::vector<std::string>{"W1"});
  CHECK(j.nodes == std::vector<std::string>{"o"});
  REQUIRE(j.ends.size() == 3);
  const Inside& chord = inside_of(j, "chord");
  const double toes = 12.5 + 2 * std::sqrt(2.0);  // leg at the crown
  CHECK(chord.from_mm == Approx(600 - toes - 80).margin(0.2));
  CHECK(chord.to_mm == Approx(600 + toes + 80).margin(0.2));
  CHECK(inside_of(j, "brace").to_mm == Approx(20 + 2 * std::sqrt(2.0) + 25).margin(3));
  CHECK_FALSE(inside_of(j, "brace").sawn_before);
  // The task stands in axes of its own: the chord along x, the brace upwards, the node at the origin.
  REQUIRE(j.task.parts.size() == 2);
  CHECK(j.task.seams[0].fillet.brace.from.norm() == Approx(0).margin(1e-9));
  CHECK((shape::along(j.task.seams[0].fillet.chord) - shape::Vec3(1, 0, 0)).norm() < 1e-9);
  CHECK((shape::along(j.task.seams[0].fillet.brace) - shape::Vec3(0, 0, 1)).norm() < 1e-9);
  for (const End& e : j.task.ends) CHECK(e.at.dot(e.out) > 0);
}

TEST_CASE("a tube is not sawn off at a node of the frame") {
  const design::Design plain = shape::tee(40, 25, 2);
  const double end = inside_of(frame_joints(plain, options).joints.at(0), "chord").to_mm;
  for (const double off : {-3.0, 0.0, 3.0}) {
    CAPTURE(off);
    design::Design d = plain;
    std::vector<std::string>& chord = d.frame.members[0].nodes;
    chord.insert(chord.end() - 1, node(d.frame, "bracket", shape::Vec3(end + off - 600, 0, 0)));
    const FrameJoints all = frame_joints(d, options);
    CHECK(inside_of(all.joints.at(0), "chord").to_mm == Approx(end + off + 4));  // a tenth of a diameter beyond
    CHECK(all.joints[0].nodes.size() == 2);
  }
  SECTION("nor where a neighbour leaves no more room") {
    design::Design d = plain;
    add_brace(d, "b", 190, 300);
    const double to = inside_of(frame_joints(d, options).joints.at(0), "chord").to_mm;
    std::vector<std::string>& chord = d.frame.members[0].nodes;
    chord.insert(chord.end() - 2, node(d.frame, "bracket", shape::Vec3(to - 600, 0, 0)));
    const FrameJoints all = frame_joints(d, options);
    REQUIRE(all.joints.size() == 2);
    CHECK(inside_of(all.joints[0], "chord").to_mm == Approx(to - 4));
    CHECK(inside_of(all.joints[1], "chord").from_mm == Approx(to + 4).margin(0.2));
  }
}

TEST_CASE("neighbours far apart are joints of their own, near ones become one, between they share the room") {
  for (const auto& [x, joints] : {std::pair(400.0, 2U), {190.0, 2U}, {120.0, 1U}}) {
    design::Design d = shape::tee(40, 25, 2);
    add_brace(d, "second", x, 400);
    const FrameJoints all = frame_joints(d, options);
    CHECK(all.joints.size() == joints);
    if (joints == 1) {
      CHECK(all.joints[0].welds.size() == 2);
      CHECK(inside_of(all.joints[0], "chord").to_mm > 600 + x);
      continue;
    }
    const Inside &first = inside_of(all.joints[0], "chord"), &second = inside_of(all.joints[1], "chord");
    CHECK(first.to_mm < second.from_mm);
    if (x < 200) CHECK(second.from_mm - first.to_mm < 1);
  }
}

TEST_CASE("joints alike and mirror images have one task, others have not") {
  design::Design d = shape::tee(40, 25, 2);
  add_brace(d, "second", 400, 400);
  FrameJoints all = frame_joints(d, options);
  REQUIRE(all.joints.size() == 2);
  CHECK(all.joints[0].task == all.joints[1].task);
  d.welds[1].throat_mm += 0.5;
  all = frame_joints(d, options);
  CHECK_FALSE(all.joints[0].task == all.joints[1].task);

  // Braces leaning to either side of the chord: each joint the other's image.
  design::Design lean = shape::tee(40, 25, 2);
  lean.frame.members.pop_back();
  lean.welds.clear();
  for (const auto& [id, x, y] : {std::tuple("left", -300.0, 1.0), {"right", 300.0, -1.0}}) {
    const std::string foot = node(lean.frame, std::string("foot-") + id, shape::Vec3(x, 0, 0));
    std::vector<std::string>& chord = lean.frame.members[0].nodes;
    chord.insert(x > 0 ? chord.end() - 1 : chord.begin() + 1, foot);
    for (const auto& [which, up] : {std::pair("a", shape::Vec3(0, 0, 1)), {"b", shape::Vec3(0, y, 0)}}) {
      const std::string name = std::string(id) + which;
      member(lean.frame, name, "B", {foot, node(lean.frame, "top-" + name, shape::Vec3(x, 0, 0) + 400 * up)});
      lean.welds.push_back(weld("W-" + name, name, foot, "chord"));
    }
  }
  const FrameJoints images = frame_joints(lean, options);
  REQUIRE(images.joints.size() == 2);
  CHECK(images.joints[0].mirrored() != images.joints[1].mirrored());
  CHECK(images.joints[0].task == images.joints[1].task);
  CHECK(angle_in_frame(images.joints[0], 90) + angle_in_frame(images.joints[1], 90) == 360);
  CHECK(angle_in_frame(images.joints[0], 0) == 0);
}

TEST_CASE("a proven depth of fusion stands in the task of its joint, and open roots have none") {
  design::Design d = shape::tee(40, 25, 2);
  joints::Weld& w = d.welds[0];
  const auto fusion = [&] { return frame_joints(d, options).joints.at(0).task.seams[0].fusion_mm; };
  w.fusion_mm = 1.2;
  CHECK(fusion() == 0);  // not proven
  w.fusion_proven = true;
  CHECK(fusion() == 1.2);
  w.root_proven = true;
  CHECK(fusion() == 0);  // fused all through
  w.root_proven = false;
  w.fusion_mm = 0.59;
  CHECK(fusion() == 0);  // below 0.3 of the wall
  w.fusion_mm = 0.6;
  CHECK(fusion() == 0.6);
  for (const double deep : {1.7, 1.9, 2.5}) {
    w.fusion_mm = deep;
    CHECK(fusion() == Approx(1.7));
  }
  const std::vector<FrameJoint> all = joints_to_model(frame_joints(d, options).joints);
  REQUIRE(all.size() == 2);
  CHECK(all[0].task.seams[0].fused_in_part());
  CHECK(all[1].task == with_open_roots(all[0].task));
  CHECK(all[1].task.seams[0].fusion_mm == 0);
  w.fusion_proven = false;
  CHECK(frame_joints(d, options).joints.at(0).task == all[1].task);
}

TEST_CASE("the root of a weld fused in part lies so far inside, on the chord, and its toes stay") {
  const shape::Stretch brace{frame::SolidBar{25}, {0, 0, 0}, {0, 0, 60}, {1, 0, 0}}, chord{frame::SolidBar{40}, {-120, 0, 0}, {120, 0, 0}, {0, 0, 1}};
  const shape::FilletAround fillet{brace, chord, {-1, 0, 0}, 2.8, 3.2};
  const SeamPath open(fillet), in_part(fillet, 360, 1.2);
  for (std::size_t i = 0; i < open.sections().size(); ++i) {
    const SeamSection &a = open.sections()[i], &b = in_part.sections()[i];
    CHECK(b.root.head<2>().norm() == Approx(12.5 - 1.2));
    CHECK(b.root.tail<2>().norm() == Approx(20));
    CHECK(b.root.head<2>().normalized().dot(a.root.head<2>().normalized()) == Approx(1));
    CHECK((a.brace_toe - b.brace_toe).norm() + (a.chord_toe - b.chord_toe).norm() + (a.along_chord - b.along_chord).norm() == 0);
    CHECK(b.slit_way.dot(b.tangent) == Approx(0).margin(1e-3));
    CHECK(b.slit_way.tail<2>().dot(b.root.tail<2>()) == Approx(0).margin(1e-9));
  }
}

TEST_CASE("a library knows a joint by its task alone") {
  design::Design d = shape::tee(40, 25, 2);
  const FrameJoints all = frame_joints(d, options);
  JointLibrary library;
  library.models.emplace_back(all.joints[0].task, JointAnswer{});
  CHECK(modelled_joints(all, library).size() == 1);
  d.frame.tubes[1].section = frame::RoundTube{25, 2.1};
  CHECK(modelled_joints(frame_joints(d, options), library).empty());
}

TEST_CASE("what has no model is named with its reason") {
  design::Design d = shape::tee(25, 25, 2);  // as wide as its chord: no fillet goes around
  FrameJoints all = frame_joints(d, options);
  CHECK(all.joints.empty());
  REQUIRE(all.without.size() == 1);
  CHECK(all.without[0].why.id == "joint.no-seam");
  d = shape::tee(40, 25, 2);
  d.welds[0].layout = joints::Layout::slotted;
  all = frame_joints(d, options);
  REQUIRE(all.without.size() == 1);
  CHECK(all.without[0].why.id == "joint.no-tubes");
}

}  // namespace seamwright::solid
