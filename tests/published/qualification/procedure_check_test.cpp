// SPDX-License-Identifier: GPL-3.0-or-later
// Procedures after ISO 15614-1:2017, level 2 [rules from memory]: a worked example evaluated apart, each
// range from both sides.
#include "engine/qualification/stated_procedure.h"
#include "tests/published/outside/outside.h"

#include <algorithm>
#include <cmath>

using namespace seamwright;
using namespace seamwright::qualification;
using seamwright::outside::Expected;

namespace {

// 141, 5.1 with 5.1, tube butt 1.5 in a single run, diameter 38, heat 0.22, hardness tested, ER80S-D2, I1,
// DCEN.
Record record() {
  Record r;
  r.id = "R1";
  r.signed_off = true;
  r.hardness_tested = true;
  Variables& t = r.tested;
  t.process = "141";
  t.mechanisation = "manual";
  t.first_group = t.second_group = "5.1";
  t.form = JointForm::butt;
  t.thickness_mm = 1.5;
  t.diameter_mm = 38;
  t.filler = "ER80S-D2";
  t.gas = "I1";
  t.current = "DCEN";
  t.positions = {"H-L045"};
  t.preheat_c = 20;
  t.interpass_c = 150;
  t.heat_kj_mm = 0.22;
  return r;
}
Variables joint(double wall, double other, double diameter, double heat) {
  Variables v = record().tested;
  v.thickness_mm = wall;
  v.other_thickness_mm = other;
  v.diameter_mm = diameter;
  v.heat_kj_mm = heat;
  return v;
}
std::string why(const Record& r, const Variables& v) {
  const Check check = covers(r, v);
  const Item* reason = first_reason(check);
  return reason ? reason->item : "covered";
}

}  // namespace

TEST_CASE("worked example") {
  SOURCE(recalled, "ISO 15614-1:2017, level 2: example evaluated apart", "exact");
  const Record r = record();
  CHECK(why(r, joint(1.2, 1.5, 28.6, 0.20)) == "covered");
  CHECK(why(r, joint(2.0, 1.5, 28.6, 0.20)) == "wall");
  CHECK(why(r, joint(0.9, 1.5, 28.6, 0.20)) == "wall");
  CHECK(why(r, joint(1.2, 2.0, 28.6, 0.20)) == "other wall");
  CHECK(why(r, joint(1.2, 1.5, 28.6, 0.15)) == "heat input");
  CHECK(why(r, joint(1.2, 1.5, 18.9, 0.20)) == "diameter");
  CHECK(why(r, joint(1.2, 1.5, 19.0, 0.20)) == "covered");
  Variables v = joint(1.2, 1.5, 28.6, 0.20);
  v.filler = "ER70S-2";
  CHECK(why(r, v) == "filler");
}

TEST_CASE("every other variable decides as well") {
  SOURCE(recalled, "ISO 15614-1:2017, level 2", "exact");
  const Record r = record();
  const auto with = [&](auto change) {
    Variables v = joint(1.5, 1.5, 38, 0.22);
    change(v);
    return why(r, v);
  };
  CHECK(with([](Variables& v) { v.process = "135"; }) == "process");
  CHECK(with([](Variables& v) { v.mechanisation = "automatic"; }) == "mechanisation");
  CHECK(with([](Variables& v) { v.first_group = "5.2"; }) == "groups");
  CHECK(with([](Variables& v) { v.gas = "M21"; }) == "gas");
  CHECK(with([](Variables& v) { v.current = "DCEP"; }) == "current");
  CHECK(with([](Variables& v) { v.single_run = false; }) == "runs");
  CHECK(with([](Variables& v) { v.preheat_c = 10; }) == "preheat");
  CHECK(with([](Variables& v) { v.preheat_c = 100; }) == "covered");
  CHECK(with([](Variables& v) { v.interpass_c = 151; }) == "interpass");
  CHECK(with([](Variables& v) { v.positions = {"PG"}; }) == "position");
  CHECK(with([](Variables& v) { v.positions = {"PC"}; }) == "covered");
  CHECK(with([](Variables& v) { v.form = JointForm::fillet, v.throat_mm = 2; }) ==
        "throat");  // none was tested
  CHECK(with([](Variables& v) { v.form = JointForm::branch, v.branch_angle_deg = 60; }) == "covered");
  CHECK(with([](Variables& v) { v.form = JointForm::branch, v.branch_angle_deg = 59; }) == "joint");
  Record unsigned_one = r;
  unsigned_one.signed_off = false;
  CHECK(why(unsigned_one, joint(1.5, 1.5, 38, 0.22)) == "acceptance");
  Record level_1 = r;
  level_1.level = 1;
  CHECK(verdict(covers(level_1, joint(1.5, 1.5, 38, 0.22))) == Answer::cannot_decide);
  Variables unknown = joint(1.5, 1.5, 38, 0.22);
  unknown.gas.clear();
  CHECK(verdict(covers(r, unknown)) == Answer::cannot_decide);
}

TEST_CASE(
    "a pre-production test of ISO 15613 has the ranges of ISO 15614-1 for its own joint [from memory]") {
  SOURCE(recalled, "ISO 15613: range of ISO 15614-1 where it fits, otherwise the tested joint", "exact");
  Record r = record();
  r.pre_production = true;
  r.tested.form = JointForm::branch;
  r.tested.branch_angle_deg = 45;
  Variables v = r.tested;
  CHECK(why(r, v) == "covered");
  v.branch_angle_deg = 46;
  CHECK(why(r, v) == "covered");
  v.branch_angle_deg = 44;
  CHECK(why(r, v) == "branch angle");
  v = r.tested;
  v.thickness_mm = 1.9;
  CHECK(why(r, v) == "covered");
  v.thickness_mm = 2.0;
  CHECK(why(r, v) == "wall");
  v = r.tested;
  v.diameter_mm = 40;
  CHECK(why(r, v) == "covered");
  v = r.tested;
  v.form = JointForm::butt;
  CHECK(why(r, v) == "joint");
}

TEST_CASE("the chord is judged apart, by the one tube of a butt test") {
  SOURCE(recalled, "ISO 15614-1:2017, Table 9: main and branch separately", "exact");
  Variables v = joint(1.5, 1.5, 38, 0.22);
  v.form = JointForm::branch;
  v.branch_angle_deg = 90;
  v.other_diameter_mm = 19;
  CHECK(why(record(), v) == "covered");
  v.other_diameter_mm = 18.9;
  CHECK(why(record(), v) == "main diameter");
}

TEST_CASE("walls, throats, diameters and heat from both sides") {
  SOURCE(recalled, "ISO 15614-1:2017, level 2: ranges", "exact");
  CHECK(wall_range_butt(1.5, true).least == Expected(1.05));
  CHECK(wall_range_butt(1.5, true).most == Expected(1.95));
  CHECK(wall_range_butt(1.5, false).most == Expected(3.0));
  CHECK(wall_range_butt(3.0, true).most == Expected(3.9));
  CHECK(wall_range_butt(3.1, true).least == 3);
  CHECK(wall_range_butt(4, true).least == 3);
  CHECK(wall_range_butt(4, true).most == Expected(5.2));
  CHECK(wall_range_butt(4, false).most == 8);
  CHECK(wall_range_butt(12, false).least == 3);
  CHECK(wall_range_butt(12.1, false).least == Expected(6.05));
  CHECK(wall_range_fillet(2.0).least == Expected(1.4));
  CHECK(wall_range_fillet(2.0).most == 4.0);
  CHECK(wall_range_fillet(3.0).least == Expected(2.1));
  CHECK(wall_range_fillet(3.1).least == 3);
  CHECK(wall_range_fillet(29.9).most == Expected(59.8));
  CHECK(wall_range_fillet(30).least == 5);
  CHECK(throat_range(2, true).least == 1.5);
  CHECK(throat_range(2, true).most == 3.0);
  CHECK(std::isinf(throat_range(2, false).most));
  CHECK(tube_range(38).least == 19);
  Record r = record();
  r.impact_tested = true;
  CHECK(heat_range(r).least == Expected(0.165));
  CHECK(heat_range(r).most == Expected(0.275));
  r.hardness_tested = r.impact_tested = false;
  CHECK(heat_range(r).least == 0);
  CHECK(std::isinf(heat_range(r).most));
}

TEST_CASE("heat of a run from its ranges, and from the power of pulsed current") {
  SOURCE(closed_form, "EN 1011-1: k U I / v; the instantaneous power in place of U I",
         "rounding of the arithmetic");
  Sheet s;
  s.process = "141";
  Run run{1, {50, 60}, {10, 11}, {1.5, 2}, {}};
  CHECK(heat_of(s, run).lowest == Expected(0.6 * 10 * 50 / 2 / 1000));
  CHECK(heat_of(s, run).middle == Expected(0.6 * 10.5 * 55 / 1.75 / 1000));
  CHECK(heat_of(s, run).highest == Expected(0.6 * 11 * 60 / 1.5 / 1000));
  run.power_w = {600, 696};  // not the product of the means
  CHECK(heat_of(s, run).lowest == Expected(0.6 * 600 / 2 / 1000));
  CHECK(heat_of(s, run).highest == Expected(0.6 * 696 / 1.5 / 1000));
  run.speed_mm_s = {};
  CHECK(std::isnan(heat_of(s, run).lowest));
}

TEST_CASE("what a sheet lacks is named, and what it states holds for its joints") {
  OURS;
  Sheet s;
  s.process = "141";
  s.positions = {"PA", "PC"};
  const auto missing = missing_items(s);
  CHECK(std::find(missing.begin(), missing.end(), "gas") != missing.end());
  CHECK(std::find(missing.begin(), missing.end(), "tungsten") != missing.end());
  CHECK(std::find(missing.begin(), missing.end(), "process") == missing.end());
  s.wall_mm = {1.5, 2.5};
  s.angle_deg = {60, 90};
  const JointSizes joint{JointForm::branch, 2, 3, 30, 60, 59, 2};
  const Check check = sheet_covers(s, joint);
  REQUIRE(first_reason(check));
  CHECK(first_reason(check)->item == "branch angle");
  const auto joints = joints_for(s, joint);
  REQUIRE(joints.size() == 2);
  CHECK(joints[1].position == "PC");
  CHECK(joints[0].branch_angle_deg == 59);
  CHECK_FALSE(can_weld("121", "PE"));
  CHECK(can_weld("121", "PA"));
  CHECK(can_weld("141", "PE"));
}

TEST_CASE("groups") {
  SOURCE(recalled, "ISO 15614-1:2017: groups of ISO/TR 15608", "exact");
  const auto ask = [](const char* tested, double tested_yield, const char* one, double yield, const char* two,
                      double other) {
    Variables t, a;
    t.first_group = t.second_group = tested;
    t.first_yield_mpa = t.second_yield_mpa = tested_yield;
    a.first_group = one;
    a.first_yield_mpa = yield;
    a.second_group = two;
    a.second_yield_mpa = other;
    return group_covered(t, a);
  };
  CHECK(ask("1.2", 355, "1.1", 235, "1.2", 355) == Answer::yes);
  CHECK(ask("1.2", 355, "1.2", 360, "1.2", 355) == Answer::no);
  CHECK(ask("1.2", 355, "2.1", 355, "1.2", 355) == Answer::no);
  CHECK(ask("2.1", 420, "1.1", 235, "1.1", 235) == Answer::yes);
  CHECK(ask("2.1", 420, "2.1", 420, "1.2", 355) == Answer::yes);
  CHECK(ask("3.1", 690, "2.1", 420, "1.1", 235) == Answer::yes);
  CHECK(ask("3.1", 690, "3.2", 700, "3.1", 690) == Answer::no);
  CHECK(ask("5.1", 0, "5.1", 0, "5.1", 0) == Answer::yes);
  CHECK(ask("5.1", 0, "5.1", 0, "1.2", 355) == Answer::yes);
  CHECK(ask("5.1", 0, "5.2", 0, "5.1", 0) == Answer::no);
  CHECK(ask("5.1", 0, "1.1", 235, "1.1", 235) == Answer::no);
  CHECK(ask("5.1", 0, "5.1", 0, "3.1", 600) == Answer::no);
  CHECK(ask("1.2", 0, "1.2", 0, "1.2", 0) == Answer::cannot_decide);
  CHECK(ask("8.1", 0, "8.1", 0, "8.1", 0) == Answer::cannot_decide);
  CHECK(ask("5.1", 0, "", 0, "5.1", 0) == Answer::cannot_decide);
  CHECK(ask("5.1", 0, "foo", 0, "5.1", 0) == Answer::no);
  CHECK(ask("5.1", 0, "5.1", 0, "foo", 0) == Answer::no);
  CHECK(ask("5.1", 0, "5.1", 0, "5.9", 0) == Answer::no);
}
