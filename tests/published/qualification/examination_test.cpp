// SPDX-License-Identifier: GPL-3.0-or-later
// Examinations of a procedure's test piece after ISO 15614-1:2017, level 2, and its sheet after ISO 15609-1 [rules from memory]: what is asked
// for each kind of joint, each bound from both sides, and every item of a sheet.
#include <algorithm>
#include <functional>

#include "catalog/published/published_data.h"
#include "engine/qualification/examination.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::qualification;

namespace {

Record record(JointForm form) {
  Record r;
  r.id = "R1";
  r.signed_off = true;
  Variables& t = r.tested;
  t.process = "141";
  t.form = form;
  t.thickness_mm = 2;
  t.throat_mm = 2;
  t.diameter_mm = 38;
  t.heat_kj_mm = 0.22;
  return r;
}

Macro section_of(bool fused) {
  Macro m;
  m.fused = fused;
  return m;
}

// All that a butt test needs.
TestReport report() {
  TestReport t;
  for (const char* method : {"VT", "PT", "RT"}) t.examinations.push_back({.method = method, .accepted = true});
  t.examinations[0].findings = {{"5011", 0}};
  t.examinations.push_back({.method = "tensile", .accepted = true, .strength_mpa = {660, 655}, .least_strength_mpa = 650});
  t.examinations.push_back({.method = "bend", .accepted = true, .bend_deg = {180, 180, 180, 180}, .flaw_mm = {0, 0, 3, 0}});
  t.macros = {section_of(true), section_of(true)};
  t.passes = {{58, 10.2, 1.6, 0}};
  t.stated = {{"heat", "H1"}, {"filler_batch", "F1"}, {"witnessed_by", "N"}};
  return t;
}

Check examined(const Record& r, const TestReport& t) { return qualification::examined(r, t, published::catalog().imperfections); }

// The first item that is not met, with its answer.
std::string why(const Record& r, const TestReport& t) {
  const Check check = examined(r, t);
  const Item* reason = first_reason(check);
  return reason ? reason->item + ": " + name_of(reason->answer) : "accepted";
}

TestReport without(const char* method) {
  TestReport t = report();
  std::erase_if(t.examinations, [&](const Examination& e) { return e.method == method; });
  return t;
}

}  // namespace

TEST_CASE("a kind of joint asks for these examinations") {
  SOURCE(recalled, "ISO 15614-1:2017, Table 2", "exact");
  const Record butt = record(JointForm::butt), branch = record(JointForm::branch), fillet = record(JointForm::fillet);
  for (const Record* r : {&butt, &branch, &fillet}) CHECK(why(*r, report()) == "accepted");
  for (const Record* r : {&butt, &branch, &fillet}) {
    CHECK(why(*r, without("VT")) == "visual testing: cannot_decide");
    CHECK(why(*r, without("PT")) == "surface testing: cannot_decide");
  }
  CHECK(why(butt, without("RT")) == "volumetric testing: cannot_decide");
  CHECK(why(fillet, without("RT")) == "accepted");
  CHECK(why(butt, without("tensile")) == "tensile specimens: cannot_decide");
  CHECK(why(butt, without("bend")) == "bend specimens: cannot_decide");
  CHECK(why(fillet, without("bend")) == "accepted");
  // A branch with a fused root is seen through its thickness above 50 mm outside diameter.
  Record small = branch, large = branch;
  small.tested.diameter_mm = 50;
  large.tested.diameter_mm = 50.1;
  CHECK(why(small, without("RT")) == "accepted");
  CHECK(why(large, without("RT")) == "volumetric testing: cannot_decide");
  TestReport open = without("RT");
  open.macros = {section_of(false), section_of(true)};
  CHECK(why(large, open) == "accepted");
}

TEST_CASE("values of a test decide, on both sides of each bound") {
  SOURCE(recalled, "ISO 15614-1:2017, 7.4 and 7.5; ISO 5817:2014, level B", "exact");
  const Record butt = record(JointForm::butt);
  TestReport t = report();
  t.examinations[3].strength_mpa = {650, 650};
  CHECK(why(butt, t) == "accepted");
  t.examinations[3].strength_mpa = {700, 649.9};
  CHECK(why(butt, t) == "tensile strength: no");
  t.examinations[3].strength_mpa = {700};
  CHECK(why(butt, t) == "tensile specimens: no");
  t = report();
  t.examinations[4].flaw_mm[0] = 3.1;
  CHECK(why(butt, t) == "flaw in bending: no");
  t = report();
  t.examinations[4].bend_deg[3] = 179;
  CHECK(why(butt, t) == "bend angle: no");
  t = report();
  t.examinations[0].accepted = false;
  CHECK(why(butt, t) == "visual testing: no");
  t = report();
  t.examinations[0].findings = {{"100", 0.1}};  // a crack is never permitted
  CHECK(why(butt, t) == "imperfection of the test piece: no");
  t.examinations[0].findings = {{"100", 0}};
  CHECK(why(butt, t) == "accepted");
  t.examinations[0].findings = {{"9999", 0.1}};
  CHECK(why(butt, t) == "imperfection of the test piece: cannot_decide");
  t.examinations[0].findings.clear();  // looked at, and nothing told of it
  CHECK(why(butt, t) == "imperfection of the test piece: cannot_decide");
  // A rejection is not outweighed: not by another of its kind, by good values, or because the joint does not ask for it.
  t = report();
  t.examinations.push_back({.method = "VT"});
  CHECK(why(butt, t) == "visual testing: no");
  t = report();
  t.examinations[3].accepted = false;
  CHECK(why(butt, t) == "tensile strength: no");
  t = report();
  t.examinations[2].accepted = false;
  CHECK(why(record(JointForm::fillet), t) == "volumetric testing: no");
  t = report();
  t.macros[1].fused = false;
  CHECK(why(butt, t) == "imperfection of the test piece: no");
  CHECK(why(record(JointForm::fillet), t) == "accepted");
  t = report();
  t.macros.pop_back();
  CHECK(why(butt, t) == "accepted");
  CHECK(why(record(JointForm::fillet), t) == "macro sections: no");
}

TEST_CASE("the heat input of a record is that of its passes, and the test piece can be told years later") {
  SOURCE(closed_form, "EN 1011-1: k U I / v", "2 % rounding of what was written down");
  Record r = record(JointForm::fillet);
  r.tested.heat_kj_mm = 0.6 * 58 * 10.2 / 1.6 / 1000;
  CHECK(why(r, report()) == "accepted");
  r.tested.heat_kj_mm *= 1.03;
  CHECK(why(r, report()) == "heat input of the record: no");
  r.tested.heat_kj_mm *= 0.97 / 1.03;
  CHECK(why(r, report()) == "heat input of the record: no");
  TestReport t = report();
  t.passes.push_back({0, 0, 1.5, 600});
  r.tested.heat_kj_mm = 0.6 * 600 / 1.5 / 1000;
  CHECK(why(r, t) == "accepted");
  t.passes.clear();
  CHECK(why(r, t) == "passes as welded: cannot_decide");
  for (const auto& [word, item] : {std::pair{"heat", "heat of the test piece"}, std::pair{"filler_batch", "batch of the filler"}, std::pair{"witnessed_by", "witness"}}) {
    t = report();
    t.stated.erase(word);
    CHECK(why(record(JointForm::fillet), t) == std::string(item) + ": cannot_decide");
  }
}

TEST_CASE("a sheet lacks each item of the standard that it does not state") {
  SOURCE(recalled, "ISO 15609-1:2019, clause 4", "exact");
  // Items of TIG by hand; of MAG, and of pulsed current, more.
  const auto complete = [](const char* process) {
    Sheet s;
    s.maker = s.revision = s.record = s.mechanisation = s.filler = s.gas = "x";
    s.process = process;
    s.current = "pulsed DCEP";
    s.form = JointForm::branch;
    s.both_sides = true;
    s.groups = {"5.1", "5.1"};
    s.wall_mm = s.diameter_mm = s.angle_deg = {1, 2};
    s.positions = {"PA"};
    s.preheat_c = 20;
    s.interpass_c = 150;
    s.runs = {{1, {50, 60}, {10, 11}, {1, 2}, {500, 600}}};
    for (const char* word :
         {"material", "delivery_condition", "preparation", "gap", "cleaning", "fixture", "tacking", "sequence", "weaving", "torch",
          "welding_order", "back_gouging", "filler_size", "filler_make", "drying", "gas_flow", "back_purge", "tungsten", "nozzle", "transfer",
          "stick_out", "wire_feed", "pulse", "post_heating"})
      s.stated_keys[word] = "x";
    return s;
  };
  const auto lacks = [](const Sheet& s) { return missing_items(s); };
  for (const char* process : {"141", "135"}) {
    const Sheet whole = complete(process);
    CHECK(lacks(whole).empty());
    for (const auto& [word, text] : whole.stated_keys) {
      const bool wire_only = word == "transfer" || word == "stick_out" || word == "wire_feed";
      if ((wire_only && whole.process == "141") || (word == "tungsten" && whole.process == "135")) continue;
      Sheet without_it = whole;
      without_it.stated_keys.erase(word);
      INFO(process << " without " << word);
      CHECK(lacks(without_it) == std::vector<std::string>{word});
    }
    const std::pair<const char*, std::function<void(Sheet&)>> others[] = {
        {"maker", [](Sheet& s) { s.maker.clear(); }},     {"revision", [](Sheet& s) { s.revision.clear(); }},
        {"record", [](Sheet& s) { s.record.clear(); }},   {"groups", [](Sheet& s) { s.groups.clear(); }},
        {"wall", [](Sheet& s) { s.wall_mm = {}; }},       {"angle", [](Sheet& s) { s.angle_deg = {}; }},
        {"diameter", [](Sheet& s) { s.diameter_mm = {}; }}, {"mechanisation", [](Sheet& s) { s.mechanisation.clear(); }},
        {"position", [](Sheet& s) { s.positions.clear(); }}, {"filler", [](Sheet& s) { s.filler.clear(); }},
        {"runs", [](Sheet& s) { s.runs.clear(); }},       {"amperes of a run", [](Sheet& s) { s.runs[0].amperes = {}; }},
        {"travel speed of a run", [](Sheet& s) { s.runs[0].speed_mm_s = {}; }},
        {"instantaneous power of a pulsed run", [](Sheet& s) { s.runs[0].power_w = {}; }},
        {"gas", [](Sheet& s) { s.gas.clear(); }},         {"preheat", [](Sheet& s) { s.preheat_c = 0; }},
        {"interpass", [](Sheet& s) { s.interpass_c = 0; }}};
    for (const auto& [item, clear] : others) {
      Sheet without_it = whole;
      clear(without_it);
      INFO(process << " without " << item);
      CHECK(lacks(without_it) == std::vector<std::string>{item});
    }
  }
}
