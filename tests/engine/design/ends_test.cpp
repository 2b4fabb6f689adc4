// SPDX-License-Identifier: GPL-3.0-or-later
// Every end of a member is held by something that is rated or named.
#include "engine/design/member_ends.h"

#include <catch2/catch.hpp>

#include "tests/engine/rating/short_demo.h"
#include "tests/engine/rating/tee.h"

using namespace seamwright;
using namespace seamwright::design;
using namespace seamwright::rating;

namespace {

std::string names(const std::vector<OpenEnd>& ends) {
  std::string all;
  for (const OpenEnd& e : ends) all += e.member + " " + name_of(e.part) + " " + e.node + ";";
  return all;
}

// The chord of the tee goes on as a member of its own from the joint.
Design parted() {
  Design d = tee();
  d.frame.members[0].nodes = {"A", "J"};
  frame::Member rest = d.frame.members[0];
  rest.id = "D";
  rest.nodes = {"J", "B"};
  d.frame.members.push_back(rest);
  return d;
}

}  // namespace

TEST_CASE("the demonstration names every end, and a removed weld leaves one open") {
  Design d = short_demo().design;
  CHECK(names(open_ends(d)).empty());
  std::erase_if(d.welds, [](const joints::Weld& w) { return w.id == "W16"; });
  CHECK(names(open_ends(d)) == "pin start S1;");
  for (const joints::Weld& w : short_demo().design.welds) {
    if (w.member.empty()) continue;
    Design without = short_demo().design;
    std::erase_if(without.welds, [&](const joints::Weld& x) { return x.id == w.id; });
    INFO(w.id);
    CHECK_FALSE(open_ends(without).empty());
  }
}

TEST_CASE("a tee: welded, bolted, pinned, declared or alone") {
  Design d = tee();
  CHECK(open_ends(d).empty());  // the far ends meet nothing
  d.welds.clear();
  CHECK(names(open_ends(d)) == "b start J;");
  Design bolted = d;
  BoltCircle b;
  b.id = "B";
  b.member = "b";
  bolted.bolts = {b};
  CHECK(open_ends(bolted).empty());
  bolted.bolts[0].at_start = false;
  CHECK_FALSE(open_ends(bolted).empty());
  Design link = d;
  link.frame.members[1].axial_only = true;
  CHECK(open_ends(link).empty());
  d.unwelded_ends = {{"b", "J", "clamped", ""}};
  CHECK(open_ends(d).empty());
  d.frame.members[0].nodes = {"A", "J"};  // the chord ends there as well
  CHECK(names(open_ends(d)) == "C end J;");
  d.unwelded_ends.push_back({"C", "J", "holds the clamp", ""});
  CHECK(open_ends(d).empty());
}

TEST_CASE("one tube in two members says so, and two tubes through one node are told") {
  Design d = parted();
  CHECK(names(open_ends(d)) == "D start J;");
  d.unwelded_ends = {{"D", "J", "", "C"}};
  CHECK(open_ends(d).empty());
  d.welds.clear();
  CHECK(names(open_ends(d)) == "b start J;");
  Design cross = tee();
  cross.welds.clear();
  cross.frame.nodes.push_back({"U", {400, 0, -300}});
  cross.frame.members[1].nodes = {"U", "J", "T"};
  CHECK(open_ends(cross).size() == 1);
}

TEST_CASE("of two ends on one plate or in one mitre each has its own weld") {
  Design d = parted();
  d.frame.members.erase(d.frame.members.begin() + 1);  // without the brace
  d.welds[0].chord.clear();
  d.welds[0].kind = "tube-mitre";
  d.welds[0].layout = joints::Layout::tube_end;
  d.welds[0].member = "C";
  d.welds[0].at_start = false;
  CHECK(names(open_ends(d)) == "D start J;");
  joints::Weld second = d.welds[0];
  second.id = "V";
  second.member = "D";
  second.at_start = true;
  d.welds.push_back(second);
  CHECK(open_ends(d).empty());
}
