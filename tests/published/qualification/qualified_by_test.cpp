// SPDX-License-Identifier: GPL-3.0-or-later
// The papers of a procedure prove these: hardness by its values, what can be, the rule for tube nodes, and
// how far a macro section reaches.
#include "engine/qualification/hardness_check.h"
#include "engine/qualification/plausible.h"
#include "engine/qualification/proof.h"
#include "tests/published/outside/outside.h"

#include <algorithm>

using namespace seamwright;
using namespace seamwright::qualification;

namespace {

Record branch_record() {
  Record r;
  r.id = "R1";
  r.signed_off = true;
  r.date = read_date("2025-02-18");
  r.hardness_hv10 = {331, 352};
  Variables& t = r.tested;
  t.process = "141";
  t.mechanisation = "manual";
  t.first_group = t.second_group = "5.1";
  t.form = JointForm::branch;
  t.thickness_mm = 2;
  t.other_thickness_mm = 2.5;
  t.diameter_mm = 38;
  t.other_diameter_mm = 50;
  t.branch_angle_deg = 60;
  t.throat_mm = 2;
  t.filler = "ER80S-D2";
  t.gas = "I1";
  t.current = "DCEN";
  t.positions = {"H-L045"};
  t.preheat_c = 20;
  t.interpass_c = 150;
  t.heat_kj_mm = 0.22;
  return r;
}

Sheet branch_sheet() {
  Sheet s;
  s.id = "P";
  s.process = "141";
  s.mechanisation = "manual";
  s.form = JointForm::branch;
  s.groups = {"5.1", "5.1"};
  s.wall_mm = {1.5, 2.5};
  s.other_wall_mm = {2, 3};
  s.diameter_mm = {20, 50};
  s.angle_deg = {60, 90};
  s.gas = "I1";
  s.current = "DCEN";
  s.positions = {"PA", "PF"};
  s.preheat_c = 20;
  s.interpass_c = 150;
  s.runs = {{1, {52, 65}, {9.5, 11}, {1.5, 1.7}, {}}};
  return s;
}

const procedure::Chemistry middle{.c = 0.255, .si = 0.25, .mn = 0.75, .cr = 1.05, .mo = 0.225};

// The item of a name; "yes" for one that is not there would hide that it vanished.
Answer answer(const Check& check, const std::string& name) {
  const auto at = std::find_if(check.begin(), check.end(), [&](const Item& i) { return i.item == name; });
  REQUIRE(at != check.end());
  return at->answer;
}

const std::vector<Macro> both{{"M1", true, "crown"}, {"M2", true, "saddle"}, {"M3", true, "crown"}, {"M4", true, "saddle"}};

}  // namespace

TEST_CASE("a hardness test decides by its values, from both sides of the limit") {
  SOURCE(recalled, "ISO 15614-1:2017, Table 3: 380 HV10 for group 5 as welded", "exact");
  const Sheet s = branch_sheet();
  Record r = branch_record();
  const auto ask = [&](std::optional<double> foretold) { return hardness_item(s, &r, foretold).answer; };
  r.hardness_hv10 = {310, 380};
  CHECK(ask(530) == Answer::yes);
  CHECK(hardness_item(s, &r, 530).found == "380 HV10");
  r.hardness_hv10 = {310, 381};
  CHECK(ask(300) == Answer::no);
  CHECK(ask(530) == Answer::no);
  CHECK(ask(std::nullopt) == Answer::no);
  // A claim without values is none, whatever the formulas foretell.
  r.hardness_hv10.clear();
  r.hardness_tested = true;
  CHECK(ask(530) == Answer::cannot_decide);
  CHECK(ask(300) == Answer::cannot_decide);
  CHECK(ask(std::nullopt) == Answer::cannot_decide);
  CHECK(hardness_item(s, nullptr, 300).answer == Answer::cannot_decide);
  // The check stays without the chemistry and decides nothing.
  r.hardness_hv10 = {310};
  CHECK(ask(std::nullopt) == Answer::cannot_decide);
  r.signed_off = false;
  CHECK(ask(300) == Answer::cannot_decide);
}

TEST_CASE("hardness: the lower limit of both parts, and groups without one") {
  SOURCE(recalled, "ISO 15614-1:2017, Table 3: 450 for group 3, 380 for 1 and 5, 6 to be agreed", "exact");
  Record r = branch_record();
  r.hardness_hv10 = {400};
  Sheet s = branch_sheet();
  s.groups = {"3.1", "3.1"};
  CHECK(hardness_item(s, &r, 300).answer == Answer::yes);
  s.groups = {"3.1", "5.1"};
  CHECK(hardness_item(s, &r, 300).answer == Answer::no);
  s.groups = {"6.1", "5.1"};
  CHECK(hardness_item(s, &r, 300).answer == Answer::cannot_decide);
  s.groups = {"1.1", "1.1"};
  s.first_yield_mpa = s.second_yield_mpa = 275;
  CHECK(hardness_item(s, nullptr, 300).answer == Answer::yes);
  s.first_yield_mpa = 276;
  CHECK(hardness_item(s, nullptr, 300).answer == Answer::cannot_decide);
}

TEST_CASE("what cannot be and what is unusual is found, with its usual range") {
  SOURCE(recalled, "ISO/TR 15608, ISO 4063, charts of gas suppliers (28 to 44 A/mm for TIG); common practice",
         "from both sides");
  const auto with = [&](auto change) {
    Sheet s = branch_sheet();
    Record r = branch_record();
    procedure::Chemistry x = middle;
    change(s, r, x);
    return plausibility(s, &r, &x);
  };
  CHECK(verdict(with([](Sheet&, Record&, auto&) {})) == Answer::yes);
  const Check hot = with([](Sheet& s, Record&, auto&) { s.runs[0].amperes = {300, 600}; });
  CHECK(answer(hot, "current for each mm of wall") == Answer::cannot_decide);
  CHECK(first_reason(hot)->covered == "15 .. 60 A/mm");
  CHECK(first_reason(hot)->source.key == "common-practice");
  CHECK(answer(with([](Sheet& s, Record&, auto&) {
                 s.runs[0].amperes = {40, 90};
               }),
               "current for each mm of wall") == Answer::yes);
  CHECK(answer(with([](Sheet& s, Record&, auto&) {
                 s.runs[0].amperes = {40, 91};
               }),
               "current for each mm of wall") == Answer::cannot_decide);
  CHECK(answer(with([](Sheet&, Record&, auto& x) { x.c = 0.42; }), "chemistry of the group") == Answer::no);
  CHECK(answer(with([](Sheet&, Record&, auto& x) { x.c = 0.35; }), "chemistry of the group") == Answer::yes);
  CHECK(answer(with([](Sheet&, Record&, auto& x) { x.cr = 0.74; }), "chemistry of the group") == Answer::no);
  CHECK(answer(with([](Sheet& s, Record&, auto&) { s.preheat_c = 160; }), "interpass") == Answer::no);
  CHECK(answer(with([](Sheet& s, Record&, auto&) { s.preheat_c = 150; }), "interpass") == Answer::yes);
  CHECK(answer(with([](Sheet& s, Record&, auto&) { s.interpass_c = 301; }), "interpass") ==
        Answer::cannot_decide);
  CHECK(answer(with([](Sheet& s, Record&, auto&) { s.gas = "M21"; }), "gas for the process") == Answer::no);
  CHECK(answer(with([](Sheet& s, Record&, auto&) { s.gas = "ISO 14175-M21-ArC-18"; }),
               "gas for the process") == Answer::no);
  CHECK(answer(with([](Sheet& s, Record&, auto&) { s.gas = "I3-ArHe-30"; }), "gas for the process") ==
        Answer::yes);
  CHECK(answer(with([](Sheet& s, Record&, auto&) { s.gas = "foo"; }), "gas for the process") ==
        Answer::cannot_decide);
  CHECK(answer(with([](Sheet& s, Record&, auto&) { s.process = "135"; }), "gas for the process") ==
        Answer::no);
  CHECK(answer(with([](Sheet& s, Record&, auto&) { s.current = "DCEP"; }), "polarity") ==
        Answer::cannot_decide);
  CHECK(answer(with([](Sheet&, Record& r, auto&) { r.date = read_date("1990-05-01"); }),
               "date of the record") == Answer::no);
  CHECK(answer(with([](Sheet&, Record& r, auto&) { r.date = read_date("2017-01-01"); }),
               "date of the record") == Answer::yes);
  CHECK(answer(with([](Sheet&, Record& r, auto&) { r.edition = 2018; }), "edition of the record") ==
        Answer::cannot_decide);
  CHECK(answer(with([](Sheet&, Record& r, auto&) { r.tested.gas = "C1"; }), "gas of the record") ==
        Answer::no);
  CHECK(answer(with([](Sheet&, Record& r, auto&) { r.tested.preheat_c = 200; }), "interpass of the record") ==
        Answer::no);
}

TEST_CASE("a tube node: a butt test stays within, and proves neither root nor throat") {
  SOURCE(
      recalled,
      "ISO 15614-1: a butt test on tube covers branches from 60 degrees; the shop's rule is common practice",
      "exact");
  Record butt = branch_record();
  butt.tested.form = JointForm::butt;
  butt.tested.branch_angle_deg = 0;
  Sheet s = branch_sheet();
  const Check within = covers(butt, joint_by(s, {JointForm::branch, 2, 2.5, 38, 50, 60, 2}, 0.22));
  CHECK(answer(within, "joint") == Answer::yes);
  const Check rule = node_rule(s, &butt, {});
  CHECK(answer(rule, "test piece") == Answer::cannot_decide);
  CHECK(first_reason(rule)->note.id == "procedure.node-piece");
  CHECK(first_reason(rule)->source.key == "common-practice");
  CHECK(verdict(node_rule(s, nullptr, both)) == Answer::cannot_decide);
  const Record piece = branch_record();
  CHECK(verdict(node_rule(s, &piece, both)) == Answer::yes);
  CHECK(answer(node_rule(s, &piece, {both[0]}), "macro at the saddle") == Answer::cannot_decide);
  CHECK(answer(node_rule(s, &piece, {both[1]}), "macro at the crown") == Answer::cannot_decide);
  CHECK(answer(node_rule(s, &butt, both), "macro at the crown") == Answer::cannot_decide);
  s.angle_deg = {59, 90};
  Record real = piece;
  CHECK(answer(node_rule(s, &real, both), "branch below 60 deg") == Answer::cannot_decide);
  real.pre_production = true;
  CHECK(verdict(node_rule(s, &real, both)) == Answer::yes);
  // Switched off with a reason: the reason stands there, and what the test does not prove is still said.
  s = branch_sheet();
  s.node_rule_waived = "saw cuts of the first frame";
  const Check waived = node_rule(s, &butt, {});
  CHECK(verdict(waived) == Answer::yes);
  CHECK(waived[0].covered.find("saw cuts") != std::string::npos);
  CHECK(waived[0].note.id == "procedure.node-piece");
  s.form = JointForm::butt;
  CHECK(node_rule(s, &butt, {}).empty());
}

TEST_CASE("a macro section proves a root within the ranges of its record and no further") {
  SOURCE(recalled, "ISO 15614-1:2017, level 2: ranges of a 2 mm single run, 0.7 to 1.3 t", "from both sides");
  const Record r = branch_record();
  const JointSizes tested{JointForm::branch, 2, 2.5, 38, 50, 60, 2};
  const auto doubt = [&](auto change, const std::vector<Macro>& macros = both) {
    Variables v = joint_by(branch_sheet(), tested, 0.22);
    v.filler = "ER80S-D2";
    change(v);
    const auto message = root_doubt(&r, macros, "M1", v);
    return message ? message->id : MessageId();
  };
  CHECK(doubt([](Variables&) {}).empty());
  CHECK(doubt([](Variables& v) { v.thickness_mm = 2.6; }).empty());
  CHECK(doubt([](Variables& v) { v.thickness_mm = 2.61; }) == "macro.outside");
  CHECK(doubt([](Variables& v) { v.thickness_mm = 5; }) == "macro.outside");
  CHECK(doubt([](Variables& v) { v.other_thickness_mm = 5; }) == "macro.outside");
  CHECK(doubt([](Variables& v) { v.diameter_mm = 18; }) == "macro.outside");
  CHECK(doubt([](Variables& v) { v.other_diameter_mm = 24; }) == "macro.outside");
  CHECK(doubt([](Variables& v) { v.branch_angle_deg = 59; }) == "macro.outside");
  CHECK(doubt([](Variables& v) { v.process = "135"; }) == "macro.outside");
  CHECK(doubt([](Variables& v) { v.positions = {"PG"}; }) == "macro.outside");
  CHECK(doubt([](Variables& v) { v.heat_kj_mm = 0.16; }) == "macro.outside");
  CHECK(doubt([](Variables& v) { v.form = JointForm::butt; }) == "macro.other-joint");
  // Not all around: one place only, or one that is not fused.
  CHECK(doubt([](Variables&) {}, {both[0]}) == "macro.not-around");
  CHECK(doubt([](Variables&) {}, {both[0], both[1], both[2]}) == "macro.not-around");
  CHECK(doubt([](Variables&) {}, {both[0], {"M2", false, "saddle"}, both[2], both[3]}) == "macro.not-around");
  CHECK(doubt([](Variables&) {}, {{"M1", false, "crown"}, both[1], both[2], both[3]}) == "macro.not-fused");
  CHECK(root_doubt(nullptr, both, "M1", joint_by(branch_sheet(), tested, 0.22))->id == "macro.no-record");
  Record butt = r;
  butt.tested.form = JointForm::butt;
  CHECK(root_doubt(&butt, both, "M1", joint_by(branch_sheet(), tested, 0.22))->id == "macro.other-joint");
}

TEST_CASE("a macro section proves a depth of fusion as its record reaches, and no deeper") {
  OURS;
  const Record r = branch_record();
  const JointSizes tested{JointForm::branch, 2, 2.5, 38, 50, 60, 2};
  Variables v = joint_by(branch_sheet(), tested, 0.22);
  v.filler = "ER80S-D2";
  std::vector<Macro> macros = both;
  for (Macro& m : macros) {
    m.fused = false;
    m.penetration_mm = 1.2;
  }
  const auto doubt = [&](double fusion) {
    const auto message = fusion_doubt(&r, macros, "M1", v, fusion);
    return message ? message->id : MessageId();
  };
  CHECK(doubt(1.2).empty());
  CHECK(doubt(1.21) == "macro.not-as-deep");
  CHECK(root_doubt(&r, macros, "M1", v)->id == "macro.not-fused");
  macros[2].penetration_mm = 1;
  CHECK(doubt(1.2) == "macro.not-as-deep");
  CHECK(doubt(1).empty());
  macros[2].fused = true;
  CHECK(doubt(1.2).empty());
  macros[2].place = "";
  CHECK(doubt(1.2) == "macro.not-as-deep");
  macros[2].place = both[2].place;
  CHECK(fusion_doubt(&r, macros, "M9", v, 1)->id == "macro.not-as-deep");
  CHECK(fusion_doubt(nullptr, macros, "M1", v, 1)->id == "macro.no-record");
  v.thickness_mm = 5;
  CHECK(doubt(1) == "macro.outside");
  v.form = JointForm::butt;
  CHECK(doubt(1) == "macro.other-joint");
}

TEST_CASE(
    "a weld's own position is asked of the welder, without one every position of the procedure, and that is "
    "said") {
  SOURCE(recalled, "ISO 9606-1:2012, Table 9: a test in PC covers PA and PC", "exact");
  Certificate c;
  c.id = "A";
  c.designation = read_designation("ISO 9606-1 141 T BW FM1 S s2.0 D38 PC ss nb");
  c.tested = *read_date("2025-03-10");
  const Date on = *read_date("2025-04-01");
  Sheet s = branch_sheet();
  s.filler_group = 1;
  s.filler_kind = "S";
  JointSizes j{JointForm::branch, 2, 2.5, 38, 50, 60, 2};
  const Check all = welder_covers(c, s, j, on, on, "");
  CHECK(answer(all, "position") == Answer::no);  // PF of the procedure
  CHECK(first_reason(all)->note.id == "welders.every-position");
  j.positions = {"PA"};
  CHECK(verdict(welder_covers(c, s, j, on, on, "")) == Answer::yes);
  CHECK(answer(sheet_covers(s, j), "position") == Answer::yes);
  j.positions = {"PE"};
  CHECK(answer(sheet_covers(s, j), "position") == Answer::no);
  s.positions.clear();
  j.positions.clear();
  CHECK(verdict(welder_covers(c, s, j, on, on, "")) == Answer::cannot_decide);
}

TEST_CASE("a range that the procedure does not state is not passed over") {
  OURS;
  Sheet s = branch_sheet();
  s.angle_deg = {};
  const JointSizes j{JointForm::branch, 2, 2.5, 38, 50, 45, 2};
  CHECK(answer(sheet_covers(s, j), "branch angle") == Answer::cannot_decide);
  CHECK(answer(sheet_covers(s, j), "throat") == Answer::cannot_decide);
}
