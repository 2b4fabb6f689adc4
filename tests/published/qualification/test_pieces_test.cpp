// SPDX-License-Identifier: GPL-3.0-or-later
// The fewest test pieces for a frame: the search against trying all choices, the plan against the standards' ranges worked by hand, and the
// days on which certificates need a signature.
#include "engine/qualification/test_pieces.h"

#include <algorithm>
#include <bit>
#include <random>

#include "engine/qualification/smallest_cover.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::qualification;

namespace {

// Fewest sets that hold all that all of them hold, by trying every choice.
std::size_t fewest_by_trying(const std::vector<Covered>& sets) {
  Covered all(sets.front().size());
  for (const Covered& s : sets) all |= s;
  std::size_t fewest = sets.size();
  for (unsigned choice = 0; choice < (1U << sets.size()); ++choice) {
    Covered held(all.size());
    for (std::size_t i = 0; i < sets.size(); ++i)
      if (choice >> i & 1U) held |= sets[i];
    if (held == all) fewest = std::min<std::size_t>(fewest, static_cast<std::size_t>(std::popcount(choice)));
  }
  return fewest;
}

Sheet sheet() {
  Sheet s;
  s.id = "S1";
  s.process = "141";
  s.mechanisation = "manual";
  s.single_run = false;
  s.groups = {"5.1", "5.1"};
  s.filler = "ER80S-D2";
  s.filler_group = 1;
  s.filler_kind = "S";
  s.gas = "I1";
  s.current = "DCEN";
  s.positions = {"PA", "PC", "PF"};
  s.preheat_c = 20;
  s.interpass_c = 150;
  return s;
}

PlannedWeld weld(const Sheet& s, const char* id, double wall, double diameter, double other_wall, double other_diameter, double angle) {
  return {id, &s, {JointForm::branch, wall, other_wall, diameter, other_diameter, angle, 2}, 0.2, 0.3};
}

}  // namespace

TEST_CASE("the smallest cover against every choice tried") {
  SOURCE(evaluated, "all choices tried, 300 random cases of up to 10 sets", "exact");
  std::mt19937 random(4711);
  for (int n = 0; n < 300; ++n) {
    const std::size_t sets = 1 + random() % 10, things = 1 + random() % 12;
    std::vector<Covered> all(sets, Covered(things));
    for (Covered& s : all)
      for (std::size_t i = 0; i < things; ++i) s[i] = random() % 3 == 0;
    const Cover cover = smallest_cover(all);
    Covered held(things), wanted(things);
    for (const Covered& s : all) wanted |= s;
    for (const std::size_t i : cover.sets) held |= all[i];
    CHECK(held == wanted);
    CHECK(cover.proven);
    CHECK(cover.sets.size() == (wanted.none() ? 0 : fewest_by_trying(all)));
  }
  CHECK(smallest_cover({}).sets.empty());
}

TEST_CASE("a search without time left gives a cover and says that it is not proven") {
  OURS;
  std::mt19937 random(7);
  std::vector<Covered> all(30, Covered(40));
  for (Covered& s : all)
    for (std::size_t i = 0; i < 40; ++i) s[i] = random() % 5 == 0;
  const Cover cover = smallest_cover(all, 1);
  Covered held(40), wanted(40);
  for (const Covered& s : all) wanted |= s;
  for (const std::size_t i : cover.sets) held |= all[i];
  CHECK(held == wanted);
  CHECK_FALSE(cover.proven);
}

TEST_CASE("test pieces for a procedure, worked by hand") {
  SOURCE(recalled, "ISO 15614-1:2017, level 2: 0.7 t to 2 t of several runs up to 3 mm, from half the diameter on, from the tested angle on", "exact");
  const Sheet s = sheet();
  // 1.5 .. 3 mm are within 0.7 .. 2 times 2 mm (1.4 .. 4); 25 .. 50 mm from half of 38 mm (19) on.
  std::vector<PlannedWeld> welds{weld(s, "a", 1.5, 25, 2, 45, 90), weld(s, "b", 2, 38, 2.5, 45, 60), weld(s, "c", 3, 50, 3, 60, 75)};
  PiecePlan<ProcedurePiece> plan = procedure_pieces(welds);
  REQUIRE(plan.pieces.size() == 1);
  CHECK(plan.open.empty());
  CHECK(plan.pieces[0].record.tested.branch_angle_deg == 60);
  CHECK_FALSE(plan.pieces[0].record.pre_production);
  CHECK(plan.pieces[0].welds == std::vector<std::size_t>{0, 1, 2});
  // Below 60 degrees a piece of ISO 15613, at that angle.
  welds.push_back(weld(s, "d", 2, 30, 2, 45, 45));
  plan = procedure_pieces(welds);
  REQUIRE(plan.pieces.size() == 1);
  CHECK(plan.pieces[0].record.pre_production);
  CHECK(plan.pieces[0].record.tested.branch_angle_deg == 45);
  // 4.5 mm is only covered by a piece of 3 mm (2.1 .. 6) or of 4.5 mm (3 .. 9), neither of which covers 1.5 mm.
  welds.push_back(weld(s, "e", 4.5, 50, 4.5, 60, 90));
  plan = procedure_pieces(welds);
  CHECK(plan.pieces.size() == 2);
  CHECK(plan.open.empty());
  // A plan covers what it says: asked anew of each piece.
  for (const ProcedurePiece& p : plan.pieces)
    for (const std::size_t i : p.welds) CHECK(verdict(covers(p.record, joint_by(s, welds[i].sizes, welds[i].lowest_heat))) == Answer::yes);
  // No piece covers a weld whose sizes are not known, or that names no procedure.
  welds.push_back(weld(s, "f", 0, 0, 0, 0, 90));
  welds.push_back({"g", nullptr, {}, 0, 0});
  plan = procedure_pieces(welds);
  REQUIRE(plan.open.size() == 2);
  CHECK(plan.open[0].reason.item == "procedure");
  CHECK(plan.open[1].weld == 5);
}

TEST_CASE("a change of what is never covered asks for a piece of its own") {
  SOURCE(recalled, "ISO 15614-1:2017: process, filler, gas, current as tested", "exact");
  const Sheet s = sheet();
  Sheet other = sheet();
  other.id = "S2";
  other.gas = "I3";
  const std::vector<PlannedWeld> welds{weld(s, "a", 2, 38, 2.5, 45, 90), weld(other, "b", 2, 38, 2.5, 45, 90)};
  CHECK(procedure_pieces(welds).pieces.size() == 2);
  CHECK(welder_pieces(welds).pieces.size() == 1);  // a welder's test does not hang on the gas
}

TEST_CASE("test pieces for a welder, worked by hand") {
  SOURCE(recalled, "ISO 9606-1:2012, Tables 6, 7 and 9", "exact");
  const Sheet s = sheet();
  // s 2 covers 2 .. 4, D 38 covers from 25 on, H-L045 covers PA, PC and PF; 1.5 mm needs a piece below 2 mm.
  const std::vector<PlannedWeld> welds{weld(s, "a", 2, 38, 2.5, 45, 90), weld(s, "b", 3, 25, 2.5, 45, 90), weld(s, "c", 1.5, 25, 2, 45, 90)};
  const PiecePlan<WelderPiece> plan = welder_pieces(welds);
  CHECK(plan.open.empty());
  for (const WelderPiece& p : plan.pieces) {
    CHECK(p.designation.positions.size() == 1);
    for (const std::size_t i : p.welds) CHECK(verdict(piece_covers(p.designation, {}, s, welds[i].sizes)) == Answer::yes);
  }
  // No single thickness of this frame covers all three: s 1.5 covers 1.5 .. 3 [1.5 is 3 at most], checked against the table itself.
  const bool one = std::any_of(plan.pieces.begin(), plan.pieces.end(), [](const WelderPiece& p) { return p.welds.size() == 3; });
  const bool range_holds_all = butt_range(1.5).contains(3) && butt_range(1.5).contains(1.5);
  CHECK(one == range_holds_all);
  CHECK(plan.pieces.size() == (range_holds_all ? 1 : 2));
}

TEST_CASE("a designation is written as it is read") {
  SOURCE(recalled, "ISO 9606-1:2012, clause 11", "exact");
  for (const char* text : {"ISO 9606-1 141 T BW FM1 S s1.5 D28.6 H-L045 ss nb", "ISO 9606-1 135 P FW FM1 S t10 PB ml", "ISO 9606-1 141 T FW FM1 S t2 D38 PH sl"}) {
    const Designation read = read_designation(text);
    CHECK(text_of(read) == text);
    const Designation again = read_designation(text_of(read));
    CHECK(again.thickness_mm == read.thickness_mm);
    CHECK(again.positions == read.positions);
    CHECK(again.unread.empty());
  }
}

TEST_CASE("signatures that are due") {
  SOURCE(recalled, "ISO 9606-1:2012, 9.2 and 9.3", "exact");
  Certificate c;
  c.tested = read_date("2024-02-29").value();
  c.route = 'a';
  const auto on = [&](const char* day) { return due_of(c, read_date(day).value()); };
  REQUIRE(on("2024-03-01").size() == 2);
  CHECK(text_of(on("2024-03-01")[0].on) == "2024-08-29");
  CHECK_FALSE(on("2024-03-01")[0].prolongs);
  CHECK_FALSE(on("2024-08-29")[0].lapsed);
  CHECK(on("2024-08-30")[0].lapsed);
  CHECK(text_of(on("2024-03-01")[1].on) == "2027-02-28");
  CHECK(on("2024-03-01")[1].prolongs);
  c.route = 'b';
  CHECK(text_of(on("2024-03-01")[1].on) == "2026-02-28");
  c.route = 'c';
  CHECK(on("2024-03-01").size() == 1);
  c.confirmed = {read_date("2024-08-20").value()};
  CHECK(text_of(on("2024-09-01")[0].on) == "2025-02-20");
  c.confirmed = {read_date("2024-09-20").value()};  // too late: it does not come back
  CHECK(on("2024-10-01")[0].lapsed);
  CHECK(on("2024-02-28").empty());
  c.revoked = true;
  CHECK(on("2024-03-01").empty());
}
