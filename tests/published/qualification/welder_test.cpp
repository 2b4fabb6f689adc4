// SPDX-License-Identifier: GPL-3.0-or-later
// Welders after ISO 9606-1:2012 [tables from memory]: decision examples worked out apart from the program,
// and each bound from both sides.
#include "engine/qualification/welder.h"
#include "tests/published/outside/outside.h"

#include <algorithm>

using namespace seamwright;
using namespace seamwright::qualification;
using seamwright::outside::Expected;

namespace {

const char* const a = "ISO 9606-1 141 T BW FM1 S s1.5 D28.6 H-L045 ss nb";
const char* const b = "ISO 9606-1 141 P BW FM1 S s2.0 PA ss nb";
const char* const c = "ISO 9606-1 141 T BW FM1 S s1.5 D28.6 PH ss gb";
const char* const d = "ISO 9606-1 141 T FW FM1 S t1.5 D28.6 PH sl";

Joint butt(double s, double diameter, const char* position) {
  Joint j;
  j.process = "141";
  j.thickness_mm = s;
  j.diameter_mm = diameter;
  j.position = position;
  return j;
}
Joint fillet(double t, const char* position, const char* layers = "sl") {
  Joint j = butt(t, 28.6, position);
  j.fillet = true;
  j.layers = layers;
  return j;
}
Date day(const char* text) { return read_date(text).value(); }

std::string why(const char* test, const Joint& joint, const FilletPiece& piece = {}) {
  const Check check = covers(read_designation(test), joint, piece);
  const Item* reason = first_reason(check);
  return reason ? reason->item : "covered";
}

Certificate certificate() {
  Certificate x;
  x.id = "A";
  x.designation = read_designation(a);
  x.tested = day("2025-03-10");
  x.confirmed = {day("2025-09-01")};
  x.route = 'b';
  return x;
}

}  // namespace

TEST_CASE("decision examples: butt welds of a tube test at 45 degrees") {
  SOURCE(recalled, "ISO 9606-1:2012: examples worked out apart", "exact");
  CHECK(why(a, butt(1.5, 38, "PC")) == "covered");
  CHECK(why(a, butt(1.2, 38, "PC")) == "thickness");
  CHECK(why(a, butt(3.0, 38, "PC")) == "covered");
  CHECK(why(a, butt(3.5, 38, "PC")) == "thickness");
  CHECK(why(a, butt(1.5, 22.2, "PC")) == "diameter");
  Joint j = butt(1.5, 38, "PC");
  j.filler_group = 2;
  CHECK(why(a, j) == "covered");
  j.filler_group = 3;
  CHECK(why(a, j) == "filler group");
  j = butt(1.5, 38, "PC");
  j.backing = "gb";
  CHECK(why(a, j) == "covered");
  CHECK(why(a, fillet(1.5, "PB")) == "weld");
  j = butt(1.5, 28.6, "PC");
  j.branch_angle_deg = 60;
  CHECK(why(a, j) == "covered");
  j.branch_angle_deg = 45;
  CHECK(why(a, j) == "weld");
  CHECK(why(a, butt(1.5, 38, "PJ")) == "position");
  j = butt(1.5, 38, "PC");
  j.process = "135";
  CHECK(why(a, j) == "process");
  j.process = "142";
  j.filler_kind = "nm";
  CHECK(why(a, j) == "covered");
}

TEST_CASE("decision examples: plate, gas backing, fillet welds") {
  SOURCE(recalled, "ISO 9606-1:2012: examples worked out apart", "exact");
  Joint j = butt(2.0, 80, "PA");
  j.rotates = true;
  CHECK(why(b, j) == "covered");
  j.diameter_mm = 60;
  CHECK(why(b, j) == "diameter");
  j = butt(2.0, 499, "PA");
  CHECK(why(b, j) == "diameter");  // fixed
  j.diameter_mm = 500;
  CHECK(why(b, j) == "covered");
  CHECK(why(c, butt(1.5, 28.6, "PA")) == "details");
  CHECK(why(d, fillet(2.5, "PB")) == "covered");
  CHECK(why(d, fillet(4, "PB")) == "thickness");
  CHECK(why(d, fillet(2.5, "PB", "ml")) == "details");
  CHECK(why(d, fillet(2.5, "PD")) == "covered");
}

TEST_CASE("six months after the last confirmation the cover ends") {
  SOURCE(recalled, "ISO 9606-1:2012: confirmation every six months", "both sides of the day");
  const Certificate x = certificate();
  CHECK(verdict(valid_on(x, day("2026-01-10"), "")) == Answer::yes);
  CHECK(verdict(valid_on(x, day("2026-03-01"), "")) == Answer::yes);
  const Check late = valid_on(x, day("2026-03-05"), "");
  CHECK(verdict(late) == Answer::no);
  CHECK(first_reason(late)->item == "confirmed");
  CHECK(holds_to(x) == day("2026-03-01"));
  CHECK(verdict(valid_on(x, day("2025-03-09"), "")) == Answer::no);
}

TEST_CASE("a missed confirmation does not come back") {
  SOURCE(recalled, "ISO 9606-1:2012: confirmation every six months", "both sides of the day");
  Certificate x = certificate();
  x.confirmed = {day("2025-10-20")};  // later than 2025-09-10
  CHECK(holds_to(x) == day("2025-09-10"));
  x.confirmed = {day("2025-09-10"), day("2026-03-10"), day("2026-09-10"), day("2027-03-10")};
  CHECK(holds_to(x) == day("2027-03-10"));  // two years of route b
  CHECK(first_reason(valid_on(x, day("2027-03-11"), ""))->item == "prolonged");
  x.prolonged = {{day("2027-03-01")}};
  CHECK(holds_to(x) == day("2027-09-10"));
  x.route = 'a';
  x.prolonged.clear();
  CHECK(verdict(valid_on(x, day("2027-09-10"), "")) == Answer::yes);
  x.route = 'c';
  x.employer = "Shop";
  x.quality_programme = "3834-3";
  x.quality_record = "inspection records of the frames";
  CHECK(verdict(valid_on(x, day("2027-09-10"), "Shop")) == Answer::yes);
  CHECK(verdict(valid_on(x, day("2027-09-10"), "Other")) == Answer::no);
  CHECK(verdict(valid_on(x, day("2027-09-10"), "")) == Answer::cannot_decide);
  x.revoked = true;
  CHECK(first_reason(valid_on(x, day("2026-01-10"), "Shop"))->item == "revoked");
}

TEST_CASE("a prolongation holds with the evidence that its route asks for, and cannot be decided without it") {
  SOURCE(recalled, "ISO 9606-1:2012, 9.3 a, b, c: retest; two welds of the last six months by RT, UT or destructively; quality programme", "both sides of each");
  Certificate x = certificate();
  x.confirmed = {day("2025-09-10"), day("2026-03-10"), day("2026-09-10"), day("2027-03-10"), day("2027-09-10")};
  const auto answer = [&](const char* on = "2027-09-01") { return verdict(valid_on(x, day(on), "Shop")); };
  Prolongation& p = x.prolonged.emplace_back(Prolongation{day("2027-03-01"), {}, true});
  CHECK(answer() == Answer::cannot_decide);
  CHECK(answer("2027-03-10") == Answer::yes);  // the first term rests on the test alone
  p.tested = {{day("2026-09-10"), "RT"}, {day("2027-02-01"), "destructive"}};
  CHECK(answer() == Answer::yes);
  p.tested[0].on = day("2026-09-09");  // before the last six months of the term
  CHECK(answer() == Answer::cannot_decide);
  p.tested[0] = {day("2026-09-10"), "VT"};
  CHECK(answer() == Answer::cannot_decide);
  p.tested[0] = {day("2027-03-02"), "UT"};  // after it was signed
  CHECK(answer() == Answer::cannot_decide);
  p.tested[0].on = day("2027-03-01");
  CHECK(answer() == Answer::yes);
  p.attached = false;
  CHECK(answer() == Answer::cannot_decide);
  CHECK(first_reason(valid_on(x, day("2027-09-01"), ""))->note.id == MessageId("welders.no-prolongation-record"));
  x.evidence_asked = false;
  CHECK(answer() == Answer::yes);
  // A signature too late brings nothing back, with whatever evidence.
  x = certificate();
  x.confirmed = {day("2025-09-10"), day("2026-03-10"), day("2026-09-10"), day("2027-03-10"), day("2027-09-10")};
  x.prolonged = {{day("2027-03-11"), {{day("2027-02-01"), "RT"}, {day("2027-02-01"), "RT"}}, true}};
  CHECK(answer() == Answer::no);
  // Route a: a new test piece of this term.
  x.route = 'a';
  x.tested = day("2024-09-10");
  x.confirmed.insert(x.confirmed.begin(), day("2025-03-10"));
  x.prolonged = {{day("2027-06-01"), {{day("2027-05-20"), "RT"}}, true}};
  x.confirmed.push_back(day("2027-11-10"));
  CHECK(answer("2027-10-01") == Answer::yes);
  x.prolonged[0].tested[0].on = day("2024-09-10");  // the old test once more
  CHECK(answer("2027-10-01") == Answer::cannot_decide);
  x.prolonged[0].tested.clear();
  CHECK(answer("2027-10-01") == Answer::cannot_decide);
  CHECK(answer("2027-09-10") == Answer::yes);
  // Route c: the programme is named and documents its welds.
  x.route = 'c';
  x.employer = "Shop";
  CHECK(answer() == Answer::cannot_decide);
  x.quality_programme = "3834-2";
  CHECK(answer() == Answer::cannot_decide);
  x.quality_record = "folder of inspections";
  CHECK(answer() == Answer::yes);
  x.quality_programme = "3834-4";
  CHECK(answer() == Answer::no);
}

TEST_CASE("calendar months, leap days among them") {
  CHECK(add_months(day("2024-02-29"), 6) == day("2024-08-29"));
  CHECK(add_months(day("2024-02-29"), 24) == day("2026-02-28"));
  CHECK(add_months(day("2024-02-29"), 36) == day("2027-02-28"));
  CHECK(add_months(day("2025-08-31"), 6) == day("2026-02-28"));
  CHECK(text_of(next_day(day("2024-02-28"))) == "2024-02-29");
  CHECK_FALSE(read_date("2025-02-29"));
  CHECK_FALSE(read_date("2025-13-01"));
  CHECK_FALSE(read_date("25-01-01"));
  CHECK_FALSE(read_date("2025-1-01"));
  CHECK_FALSE(read_date(""));
}

TEST_CASE("ranges from both sides") {
  SOURCE(recalled, "ISO 9606-1:2012: ranges of thickness and diameter", "both sides of each bound");
  CHECK(butt_range(1.0).least == 1.0);
  CHECK(butt_range(1.0).most == 3.0);
  CHECK(butt_range(1.6).most == Expected(3.2));
  CHECK(butt_range(3.0).least == 3);
  CHECK(butt_range(3.0).most == 6);
  CHECK(butt_range(11.9).most == Expected(23.8));
  CHECK(std::isinf(butt_range(12).most));
  CHECK(butt_range(2, true).most == 3);
  CHECK(fillet_range(2.0).least == 2.0);
  CHECK(fillet_range(2.0).most == 4.0);
  CHECK(fillet_range(2.99).most == Expected(5.98));
  CHECK(std::isinf(fillet_range(3.0).most));
  CHECK(diameter_range(12).most == 24);
  CHECK(diameter_range(25).most == 50);
  CHECK(diameter_range(25.1).least == 25);
  CHECK(diameter_range(28.6).least == 25);
  CHECK(diameter_range(60.3).least == Expected(30.15));
  CHECK(std::isinf(diameter_range(60.3).most));
}

TEST_CASE("every position of both tables covers itself, but for tubes seen as fillets, and nothing unknown") {
  SOURCE(recalled, "ISO 9606-1:2012, Tables 9 and 10", "exact");
  for (const char* p : {"PA", "PC", "PE", "PF", "PH", "PG", "PJ", "H-L045", "J-L045"}) {
    const auto covered = positions_covered(p, false);
    CHECK(std::find(covered.begin(), covered.end(), p) != covered.end());
  }
  for (const char* p : {"PA", "PB", "PC", "PD", "PE", "PF", "PH", "PG", "PJ"}) {
    const auto covered = positions_covered(p, true);
    CHECK(std::find(covered.begin(), covered.end(), p) != covered.end());
  }
  CHECK(positions_covered("PB", false).empty());
  CHECK(positions_covered("H-L045", true).empty());
  CHECK(positions_covered("H-L045", false).size() == 6);
  CHECK(positions_covered("PG", true) == std::vector<std::string>{"PG"});
}

TEST_CASE("positions row by row: what each test covers, and nothing else") {
  SOURCE(recalled, "ISO 9606-1:2012, Tables 9 and 10", "exact");
  // One letter for each of PA PB PC PD PE PF PG PH PJ H-L045 J-L045, x where covered; Tables 9 and 10 [from
  // memory].
  const std::vector<std::string> all{"PA", "PB", "PC", "PD",     "PE",    "PF",
                                     "PG", "PH", "PJ", "H-L045", "J-L045"};
  const std::pair<const char*, const char*> butt_rows[] = {
      {"PA", "x.........."}, {"PC", "x.x........"},     {"PE", "x.x.x......"},
      {"PF", "x....x....."}, {"PH", "x...xx.x..."},     {"PG", "......x...."},
      {"PJ", "x...x.x.x.."}, {"H-L045", "x.x.xx.x.x."}, {"J-L045", "x.x.x.x.x.x"}};
  const std::pair<const char*, const char*> fillet_rows[] = {
      {"PA", "x.........."}, {"PB", "xx........."}, {"PC", "xxx........"},
      {"PD", "xxxxx......"}, {"PE", "xxxxx......"}, {"PF", "xx...x....."},
      {"PG", "......x...."}, {"PH", "xxxxxx.x..."}, {"PJ", "xx.xx.x.x.."}};
  const auto check = [&](const auto& rows, bool fillet_weld) {
    for (const auto& [tested, row] : rows)
      for (std::size_t i = 0; i < all.size(); ++i) {
        const auto covered = positions_covered(tested, fillet_weld);
        INFO(tested << " and " << all[i]);
        CHECK((std::find(covered.begin(), covered.end(), all[i]) != covered.end()) == (row[i] == 'x'));
      }
  };
  check(butt_rows, false);
  check(fillet_rows, true);
}

TEST_CASE("designations as people write them") {
  OURS;
  const Designation x = read_designation("EN ISO 9606-1  135/141  T BW FM1 S s 8,0 D 60,3 PH-L045 ss nb ml");
  CHECK(x.processes == std::vector<std::string>{"135", "141"});
  CHECK(x.thickness_mm == 8);
  CHECK(x.diameter_mm == Expected(60.3));
  CHECK(x.positions == std::vector<std::string>{"H-L045"});
  CHECK(x.read_as == std::vector<std::string>{"PH-L045 = H-L045"});
  CHECK(x.unread.empty());
  CHECK(x.layers == "ml");
  for (const char* bad :
       {"", "ISO 9606-1", "141 T BW FM1 S D28.6 PA ss nb", "141 T BW FM1 S s1.5 PA ss nb",
        "141 BW FM1 S s1.5 PA", "999 P BW FM1 S s1.5 PA", "141 P XX FM1 S s1.5 PA", "141 P BW FM9 S s1.5 PA",
        "141 P BW FM1 S s1.5", "141 P BW FM1 S s-1.5 PA", "141 P BW FM1 S snan PA"})
    CHECK_THROWS_AS(read_designation(bad), Fault);
  CHECK(read_designation("141 P BW nm s1.5 PA ss nb").filler_group == 0);
}

TEST_CASE("what is not stated cannot be decided") {
  OURS;
  Joint j = butt(1.5, 38, "");
  CHECK(verdict(covers(read_designation(a), j)) == Answer::cannot_decide);
  j = butt(0, 38, "PC");
  CHECK(verdict(covers(read_designation(a), j)) == Answer::cannot_decide);
}

TEST_CASE("the supplementary fillet piece covers fillets by its own wall, layer and position") {
  SOURCE(recalled,
         "ISO 9606-1:2012, 5.4 e: plate of 10 mm, or of the butt test's wall where thinner, PB, one layer",
         "exact");
  const FilletPiece plate{true, 10}, thin{true, 1.5};
  CHECK(why(a, fillet(3.0, "PB"), plate) == "covered");
  CHECK(why(a, fillet(12, "PA"), plate) == "covered");
  CHECK(why(a, fillet(2.9, "PB"), plate) == "thickness");
  CHECK(why(a, fillet(1.5, "PB"), thin) == "covered");
  CHECK(why(a, fillet(3.0, "PB"), thin) == "covered");
  CHECK(why(a, fillet(3.1, "PB"), thin) == "thickness");
  CHECK(why(a, fillet(2.0, "PB", "ml"), thin) == "details");
  CHECK(why(a, fillet(1.5, "PB")) == "weld");
  // It is not known here if the butt test's position carries over; one that it has not is not covered.
  const auto answer = [&](const char* position) {
    return verdict(covers(read_designation(a), fillet(2.0, position), thin));
  };
  CHECK(answer("PF") == Answer::cannot_decide);
  CHECK(answer("PG") == Answer::no);
  CHECK(why(a, butt(1.5, 38, "PC"), thin) == "covered");  // butt welds as before
}

TEST_CASE("spellings keep their sense, words of no standard and older texts are found") {
  SOURCE(recalled, "ISO 9606-1:2012, clause 11; ISO 6947; EN 287-1", "exact");
  const char* spelt = "ISO 9606-1 141 T BW FM1 S s1,5 D28,6 PA/PH-L045 ss nb";
  const Designation d = read_designation(spelt);
  CHECK(d.positions == std::vector<std::string>{"PA", "H-L045"});
  CHECK(d.read_as == std::vector<std::string>{"PH-L045 = H-L045"});
  CHECK(d.unread.empty());
  const Check told = covers(d, butt(1.5, 38, "PC"));
  CHECK(verdict(told) == Answer::yes);
  CHECK(std::any_of(told.begin(), told.end(), [](const Item& i) { return i.note.id == "welders.read-as"; }));
  CHECK(read_designation("ISO 9606-1 141 T BW FM1 S s1.5 D28.6 PJ-L045 ss nb").positions[0] == "J-L045");

  const char* junk = "ISO 9606-1 141 T BW FM1 S s1.5 D28.6 H-L045 ss nb XYZ 15";
  CHECK(read_designation(junk).unread == std::vector<std::string>{"XYZ", "15"});
  CHECK(why(junk, butt(1.5, 38, "PC")) == "designation");
  CHECK(read_designation("ISO 9606-1 141 T BW FM1 S s1.5 s9 D28.6 H-L045 ss nb").thickness_mm == 1.5);

  const char* older = "EN 287-1 141 T BW 1.2 S t1.5 D28.6 H-L045 ss nb";
  CHECK(read_designation(older).older_text);
  CHECK(why(older, butt(1.5, 38, "PC")) == "standard");
  CHECK(verdict(covers(read_designation(older), butt(1.5, 38, "PC"))) == Answer::cannot_decide);
  CHECK(why(older, butt(1.5, 38, "PJ")) == "position");  // no is worse

  Certificate early = certificate();
  early.tested = day("1990-03-10");
  const Check valid = valid_on(early, day("1990-04-01"), "");
  CHECK(first_reason(valid)->item == "standard");  // nobody was tested to a text of 2012 in 1990
}
