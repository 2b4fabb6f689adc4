// SPDX-License-Identifier: GPL-3.0-or-later
// Imperfections and tolerances: cells of ISO 5817:2014 and ISO 13920 at and around each threshold, evaluated
// apart [rows marked in the catalog are from memory].

#include "catalog/published/published_data.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::inspection;
using seamwright::outside::Expected;

namespace {

Weld fillet(double wall, double throat, double width = 0) { return {wall, throat, width, false}; }
Weld butt(double wall, double width = 0) { return {wall, 0, width, true}; }

double mm(const std::string& number, char level, const Weld& weld) {
  const Imperfection* row = row_for(published::catalog().imperfections, number, weld);
  REQUIRE(row);
  const auto bound = bound_of(*row, level, weld);
  REQUIRE(bound);
  REQUIRE(bound->kind == LimitKind::at_most);
  return bound->mm;
}
LimitKind kind(const std::string& number, char level, const Weld& weld) {
  const Imperfection* row = row_for(published::catalog().imperfections, number, weld);
  REQUIRE(row);
  return bound_of(*row, level, weld)->kind;
}

}  // namespace

TEST_CASE("thin walls have their own rows") {
  SOURCE(recalled, "ISO 5817:2014, rows for 0.5 to 3 mm and above", "digits of the evaluation");
  CHECK(mm("5011", 'D', fillet(1.5, 2)) == Expected(0.30));
  CHECK(mm("5011", 'C', fillet(1.5, 2)) == Expected(0.15));
  CHECK(kind("5011", 'B', fillet(1.5, 2)) == LimitKind::not_permitted);
  CHECK(mm("5011", 'D', fillet(3, 2)) == Expected(0.6));  // still thin
  CHECK(kind("5011", 'B', fillet(3, 2)) == LimitKind::not_permitted);
  CHECK(mm("5011", 'B', fillet(3.01, 2)) == Expected(0.1505));
  CHECK(mm("5011", 'D', fillet(4, 3)) == Expected(0.8));
  CHECK(mm("5011", 'C', fillet(4, 3)) == Expected(0.4));
  CHECK(mm("5011", 'B', fillet(4, 3)) == Expected(0.2));
  CHECK(mm("5011", 'B', fillet(20, 3)) == Expected(0.5));  // capped
  CHECK(mm("5071", 'D', butt(1.5)) == Expected(0.575));
  CHECK(mm("5071", 'C', butt(1.5)) == Expected(0.425));
  CHECK(mm("5071", 'B', butt(1.5)) == Expected(0.35));
  for (const char level : {'B', 'C', 'D'}) CHECK(mm("5072", level, butt(1.5)) == Expected(0.75));
}

TEST_CASE("limits by throat and by width") {
  SOURCE(recalled, "ISO 5817:2014, limits by throat and by width", "digits of the evaluation");
  CHECK(mm("502", 'D', butt(1.5, 5)) == Expected(2.25));
  CHECK(mm("502", 'C', butt(1.5, 5)) == Expected(1.75));
  CHECK(mm("502", 'B', butt(1.5, 5)) == Expected(1.50));
  CHECK(mm("502", 'B', butt(1.5, 60)) == Expected(5));
  CHECK(mm("512", 'D', fillet(1.5, 2)) == Expected(2.4));
  CHECK(mm("512", 'C', fillet(1.5, 2)) == Expected(2.3));
  CHECK(mm("512", 'B', fillet(1.5, 2)) == Expected(1.8));
  CHECK(mm("5213", 'D', fillet(1.5, 2)) == Expected(0.4));
  CHECK(mm("5213", 'C', fillet(1.5, 2)) == Expected(0.2));
  CHECK(kind("5213", 'B', fillet(1.5, 2)) == LimitKind::not_permitted);
  CHECK(mm("617", 'D', fillet(1.5, 2)) == Expected(0.7));
  CHECK(mm("617", 'C', fillet(1.5, 2)) == Expected(0.5));
  CHECK(mm("617", 'B', fillet(1.5, 2)) == Expected(0.4));
  CHECK(mm("504", 'D', butt(1.5, 3)) == Expected(2.8));
  CHECK(mm("504", 'C', butt(1.5, 3)) == Expected(1.9));
  CHECK(mm("504", 'B', butt(1.5, 3)) == Expected(1.3));
  CHECK(mm("504", 'D', butt(4, 4)) == Expected(5.0));
  CHECK(mm("504", 'C', butt(4, 4)) == Expected(3.4));
  CHECK(mm("504", 'B', butt(4, 4)) == Expected(1.8));
  const Imperfection* row = row_for(published::catalog().imperfections, "502", butt(1.5));
  REQUIRE(row);
  CHECK_FALSE(bound_of(*row, 'B', butt(1.5)));  // its width is not known
  CHECK(row_for(published::catalog().imperfections, "502", fillet(1.5, 2)) == nullptr);
  CHECK(row_for(published::catalog().imperfections, "999", fillet(1.5, 2)) == nullptr);
}

TEST_CASE("a crack is never accepted, an angle must be wide, a short one is the engineer's to see") {
  SOURCE(recalled, "ISO 5817:2014", "exact");
  for (const char level : {'B', 'C', 'D'})
    CHECK(kind("100", level, fillet(1.5, 2)) == LimitKind::not_permitted);
  CHECK(judge({LimitKind::not_permitted, false, 0}, 0) == Judgement::accepted);
  CHECK(judge({LimitKind::not_permitted, false, 0}, 0.01) == Judgement::rejected);
  CHECK(judge({LimitKind::at_most, false, 0.5}, 0.5) == Judgement::accepted);
  CHECK(judge({LimitKind::at_most, false, 0.5}, 0.51) == Judgement::rejected);
  CHECK(judge({LimitKind::at_most, true, 0.5}, 0.4) == Judgement::engineer);
  CHECK(judge({LimitKind::at_least, false, 110}, 110) == Judgement::accepted);
  CHECK(judge({LimitKind::at_least, false, 110}, 109) == Judgement::rejected);
  CHECK(judge({LimitKind::by_application, false, 0}, 1) == Judgement::engineer);
  CHECK(judge({LimitKind::permitted, false, 0}, 9) == Judgement::accepted);
}

TEST_CASE("the level that a rating presumes") {
  SOURCE(recalled,
         "Names in the fatigue annex of ISO 5817:2014 (C63, B90), an engineering reading; its numbers are "
         "not known here",
         "both sides of the bound");
  CHECK(demand_of(63, Coverage::inside).level == 'C');
  CHECK(demand_of(64, Coverage::inside).level == 'B');
  CHECK_FALSE(demand_of(90, Coverage::inside).no_undercut);
  CHECK(demand_of(36, Coverage::extended).level == 'B');
  CHECK(demand_of(36, Coverage::extended).no_undercut);
  CHECK(stricter(demand_of(90, Coverage::inside), demand_of(36, Coverage::extended)).no_undercut);
  CHECK(stricter(demand_of(36, Coverage::inside), demand_of(90, Coverage::inside)).level == 'B');
}

TEST_CASE("limits are read strictly") {
  OURS;
  CHECK(read_limit("1+0.25b max 10").most == 10);
  CHECK(read_limit("short 0.2+0.1t").short_only);
  CHECK(read_limit("0.2t").per == Expected(0.2));
  CHECK(read_limit("short 0.2").base == Expected(0.2));
  for (const char* bad : {"", "maybe", "0.2x", "1+", ">=", "1+0.2b max", "-1", "0.2t max 1 2"})
    CHECK_THROWS_AS(read_limit(bad), Fault);
}

TEST_CASE("general tolerances: bounds belong to the row below") {
  SOURCE(recalled, "ISO 13920, Tables of linear, angular and straightness tolerances", "exact");
  CHECK(length_tolerance_mm(850, 'B') == 3.0);
  CHECK(length_tolerance_mm(850, 'C') == 6.0);
  CHECK(length_tolerance_mm(1000, 'B') == 3.0);
  CHECK(length_tolerance_mm(1000.1, 'B') == 4.0);
  CHECK(length_tolerance_mm(400, 'B') == 2.0);
  CHECK(length_tolerance_mm(400.1, 'B') == 3.0);
  CHECK(length_tolerance_mm(2, 'A') == 1.0);
  CHECK(length_tolerance_mm(30, 'D') == 1.0);
  CHECK(length_tolerance_mm(30.1, 'D') == 4.0);
  CHECK_FALSE(length_tolerance_mm(1.9, 'A'));
  CHECK(length_tolerance_mm(25000, 'A') == 9.0);
  CHECK(angle_tolerance_deg(400, 'A') == Expected(20.0 / 60));
  CHECK(angle_tolerance_deg(401, 'A') == Expected(15.0 / 60));
  CHECK(angle_tolerance_deg(1001, 'D') == Expected(1.0));
  CHECK(straightness_mm(1250, 'F') == 4.5);
  CHECK(straightness_mm(120, 'E') == 0.5);
  CHECK(straightness_mm(120.1, 'E') == 1.0);
  CHECK_FALSE(straightness_mm(30, 'E'));
  CHECK_THROWS_AS(length_tolerance_mm(100, 'E'), Fault);
  CHECK_THROWS_AS(straightness_mm(100, 'A'), Fault);
}
