// SPDX-License-Identifier: GPL-3.0-or-later
// The headline above a frame's record and its gaps is never better than the rating, the gaps and the cracks
// are.
#include <catch2/catch.hpp>

#include "catalog/book/demo_book.h"
#include "reports/content/book_blocks.h"
#include "reports/render/json.h"
#include "reports/render/render.h"
#include "tests/catalog/book/shop.h"

using namespace seamwright;
using namespace seamwright::book;

namespace {

const reports::Answer* answer_of(const reports::Document& d) {
  for (const reports::Block& b : d.blocks)
    if (const auto* a = std::get_if<reports::Answer>(&b)) return a;
  return nullptr;
}

// The word above the record, the gaps and both documents for programs: one.
std::string headline_of(const Book& b, const std::string& serial) {
  const FrameState state = state_of(b, serial, today);
  const Trace t = trace(b, serial);
  const reports::Document record = reports::trace_document(b, t, today), gaps = reports::gaps_document(state);
  REQUIRE(answer_of(record));
  REQUIRE(answer_of(gaps));
  const std::string said = answer_of(record)->verdict.name;
  CHECK(answer_of(gaps)->verdict.name == said);
  CHECK(Json::parse(reports::to_json(state))["headline"] == said);
  CHECK(Json::parse(reports::to_json(b, t, state))["headline"] == said);
  for (const auto language : {reports::language_named("en"), reports::language_named("de")})
    CHECK(reports::to_html(gaps, language).find(reports::sentence({composed_id("state.", said), {}}, language)) !=
          std::string::npos);
  CHECK(state.is_clear() == (said == "no-open-gaps"));
  return said;
}

}  // namespace

TEST_CASE("the headline of a frame follows its rating, its gaps and what came back from the field") {
  const Folder f;
  write_demo(f.book(), "test");
  Book b = Book::open(f.book());
  const auto engineer = b.unlock("E-1", demo_passphrase), inspector = b.unlock("I-1", demo_passphrase);
  const Json rating = rating_of(b, b.current({"frame", "OT-0001"}, "frame").at(0))->content;
  const auto rated = [&](const char* verdict) {
    Json now = rating;
    now["verdict"] = verdict;
    b.append("E-1", *engineer, "rating", now, noon);
    std::vector<NewEntry> signed_for;  // what the new rating asks again
    for (const Gap& g : open_gaps(gaps(b, "OT-0001", today)))
      signed_for.push_back({"exception", {{"frame", "OT-0001"}, {"gap", g.key}, {"reason", "r"}}});
    b.append_all("E-1", *engineer, signed_for, noon);
  };
  for (const char* verdict : {"falls_short", "not_covered"}) {
    rated(verdict);
    CHECK(open_gaps(gaps(b, "OT-0001", today)).empty());
    CHECK(headline_of(b, "OT-0001") == verdict);  // although an engineer answers for it
  }
  rated("meets");
  CHECK(headline_of(b, "OT-0001") == "no-open-gaps");
  CHECK(headline_of(b, "OT-0004") == "open-gaps");
  b.append("E-1", *engineer, "frame", {{"serial", "OT-0030"}, {"design", "no such"}, {"revision", "1"}},
           noon);
  CHECK(headline_of(b, "OT-0030") == "not_covered");

  const std::string weld = b.current({"frame", "OT-0001"}, "weld").at(0).text_of("weld");
  b.append("I-1", *inspector, "field-report",
           {{"frame", "OT-0001"},
            {"on", today},
            {"what", "seen while washing"},
            {"weld", weld},
            {"cracked", true}},
           noon);
  CHECK(headline_of(b, "OT-0001") == "cracked");
  const FrameState cracked = state_of(b, "OT-0001", today);
  REQUIRE(cracked.cracks.size() == 1);
  const std::string told =
      reports::to_terminal(reports::gaps_document(cracked), reports::language_named("en"), {false, 200});
  CHECK(told.find("Crack reported on 2026-11-26, weld " + weld) != std::string::npos);
  CHECK(told.find("seen while washing") != std::string::npos);
  CHECK(refusal([&] {
          except_gap(b, "OT-0001", "gap.crack-reported:" + weld + ":" + std::to_string(b.last_entry()->seq),
                     "r", "E-1", *engineer, noon);
        }) == "book.not-exceptable");
  // Made again, it is to be inspected again.
  const Record made = b.current({"frame", "OT-0001"}, "weld").at(0);
  Json again = made.content;
  again["nonconformity"] = "N-30";
  again["on"] = today;
  b.append(made.entry.author, *b.unlock(made.entry.author, demo_passphrase), "repair", again, noon);
  CHECK(state_of(b, "OT-0001", today).cracks.empty());
  CHECK(headline_of(b, "OT-0001") == "open-gaps");
}

TEST_CASE("the headline of a verification speaks of the chain and of what the rules would have refused") {
  const Folder f;
  Shop s = open_shop(f.book());
  const auto said = [&] {
    const Verification v = verify(Book::open_read(f.book(), Tables::as_they_are));
    const std::string json = reports::to_json(v);
    CHECK(Json::parse(json)["headline"] == answer_of(reports::verified_document(v))->verdict.name);
    return answer_of(reports::verified_document(v))->verdict.name;
  };
  CHECK(said() == "intact");
  force(f.book(), "W", *s.welder, "weld", {{"frame", "F1"}, {"weld", "W1"}, {"on", "2031-01-01"}});
  CHECK(said() == "intact-refused");
  tamper(f.book(), "CREATE TABLE more(a)");
  CHECK(said() == "broken");
}
