// SPDX-License-Identifier: GPL-3.0-or-later
// A frame on its table, by hand.
#include "engine/shape/fixture.h"

#include "tests/engine/shape/jointed.h"

namespace seamwright::shape {

TEST_CASE("hinges and links part the weldments, the table touches the lowest tube") {
  design::Design d = tee(40, 20, 2);
  frame::Frame& f = d.frame;
  tube_between(f, "other", "B", Vec3(0, 0, 500), Vec3(0, 300, 500));
  member(f, "link", "B", {"top", "other.a"});
  f.members.back().axial_only = true;
  const std::vector<Weldment> all = weldments_of(d, plan_of(d));
  REQUIRE(all.size() == 2);
  CHECK(all[0].members == std::vector<std::string>{"chord", "brace"});
  CHECK(all[1].members == std::vector<std::string>{"other"});
  CHECK(all[0].table_mm == Approx(-20));
  CHECK(all[1].table_mm == Approx(490));
  REQUIRE(all[0].nodes.size() == 4);
  CHECK(all[0].nodes[1].name == "o");
  CHECK(all[0].nodes[1].at_mm.isApprox(Vec3(0, 0, 20)));
  REQUIRE(all[0].ends.size() == 3);  // both of the chord, and the brace's far one
  CHECK(all[0].ends[2].name == "brace");
  CHECK(all[0].ends[2].at_mm.isApprox(Vec3(0, 0, 420)));
}

TEST_CASE("an upright tube reaches no lower than its end, a slanted one by its wall's edge") {
  design::Design d;
  round_tube(d, "B", 20, 2);
  tube_between(d.frame, "slanted", "B", Vec3(0, 0, 0), Vec3(300, 0, 400));
  CHECK(weldments_of(d, plan_of(d))[0].table_mm == Approx(-10 * 0.6));
  tube_between(d.frame, "upright", "B", Vec3(500, 0, 0), Vec3(500, 0, 400));
  CHECK(weldments_of(d, plan_of(d))[1].table_mm == Approx(0));
}

TEST_CASE("diagonals go across between twins, and are equal where the frame is") {
  design::Design d;
  round_tube(d, "B", 20, 2);
  for (const auto& [side, y] : {std::pair(".L", 150.0), {".R", -150.0}}) {
    node(d.frame, std::string("a") + side, Vec3(0, y, 0));
    node(d.frame, std::string("b") + side, Vec3(400, y, 0));
    member(d.frame, std::string("rail") + side, "B", {std::string("a") + side, std::string("b") + side});
  }
  member(d.frame, "cross", "B", {"a.L", "a.R"});
  std::vector<Weldment> all = weldments_of(d, plan_of(d));
  REQUIRE(all.size() == 1);
  REQUIRE(all[0].diagonals.size() == 1);
  const Diagonal& g = all[0].diagonals[0];
  CHECK(g.from + g.to + g.other_from + g.other_to == "a.Lb.Ra.Rb.L");
  CHECK(g.length_mm == Approx(500));
  CHECK(g.other_mm == Approx(500));
  d.frame.nodes[1].position_mm.x() = 410;
  CHECK(weldments_of(d, plan_of(d))[0].diagonals[0].other_mm > 505);
}

TEST_CASE("true axes are the tubes that turn: pivot, hubs, bottom bracket") {
  design::Design d;
  frame::Frame& f = d.frame;
  round_tube(d, "B", 20, 2);
  tube_between(f, "pin", "B", Vec3(0, 0, 100), Vec3(0, 0, 300));
  tube_between(f, "housing", "B", Vec3(0, 0, 100), Vec3(0, 0, 300));
  f.hinges.push_back({"h", "pin.a", "housing.a", Vec3(0, 0, 1)});
  member(f, "stay", "B", {"housing.b", node(f, "hub", Vec3(-500, 0, 200))});
  member(f, "axle", "B", {"hub", node(f, "end", Vec3(-500, 60, 200))});
  frame::Wheel rear;
  rear.id = "R";
  rear.node = "hub";
  f.wheels.push_back(rear);
  const std::vector<Weldment> all = weldments_of(d, plan_of(d));
  REQUIRE(all.size() == 2);
  REQUIRE(all[0].axes.size() == 1);
  CHECK(all[0].axes[0].member == "pin");
  REQUIRE(all[1].axes.size() == 2);
  CHECK(all[1].axes[0].member == "housing");
  CHECK(all[1].axes[1].kind == TrueAxis::Kind::rear_hub);
  CHECK(all[1].axes[1].member == "axle");
  CHECK(all[1].axes[1].to_mm.y() == Approx(60));
}

}  // namespace seamwright::shape
