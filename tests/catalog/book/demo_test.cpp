// SPDX-License-Identifier: GPL-3.0-or-later
// The demonstration's book, frame by frame, and the proof of one.
#include "catalog/book/demo_book.h"

#include <algorithm>

#include "catalog/book/copies.h"
#include "catalog/book/gaps.h"
#include "catalog/book/records.h"
#include "tests/catalog/book/shop.h"

using namespace seamwright;
using namespace seamwright::book;

namespace {

bool has(const std::vector<Gap>& all, const std::string& start) {
  return std::any_of(all.begin(), all.end(), [&](const Gap& g) { return g.key.starts_with(start); });
}

}  // namespace

TEST_CASE("the demonstration's frames are in the states that it tells") {
  const Folder f;
  copy_demo(f.book());
  Book b = Book::open(f.book());
  const Verification v = verify(b);
  CHECK(v.problems.empty());
  CHECK(v.refused.empty());
  CHECK(v.backwards == 0);
  const std::string day = "2026-11-26";
  for (const char* released : {"OT-0001", "OT-0002"}) {
    const auto all = gaps(b, released, day);
    CHECK(open_gaps(all).empty());
    CHECK(has(all, "gap.rating"));  // signed for: the frames go to a rig
    CHECK(b.current({"frame", released}, "release").size() == 1);
  }
  CHECK(b.current({"frame", "OT-0002"}, "repair").size() == 1);
  const auto lapsed = gaps(b, "OT-0003", day);
  CHECK(has(lapsed, "gap.not-qualified"));
  CHECK_FALSE(has(lapsed, "gap.weld-missing"));
  const auto unfinished = gaps(b, "OT-0004", day);
  CHECK(has(unfinished, "gap.weld-missing"));
  CHECK(has(unfinished, "gap.not-inspected"));
  const auto engineer = b.unlock("E-1", demo_passphrase);
  CHECK(refusal([&] { release(b, "OT-0003", "E-1", *engineer, noon); }) == "book.gaps");
  const auto carriers = recall(b, {"heat", demo_heat}, day);
  REQUIRE_FALSE(carriers.empty());
  CHECK(carriers[0].serial == "OT-0001");  // the only one that was ridden on
  CHECK(carriers[0].used > 0);
}

TEST_CASE("parameters outside and missing records are gaps of their own") {
  const Folder f;
  copy_demo(f.book());
  Book b = Book::open(f.book());
  const Record first = b.current({"frame", "OT-0001"}, "weld").at(0);
  const auto welder = b.unlock(first.entry.author, demo_passphrase);
  const std::string weld = first.text_of("weld");
  std::int64_t at = first.entry.seq;
  const auto now = [&](const Json& content, const std::vector<std::string>& asked) {
    // Past the door, which lets none of it in.
    at = force(f.book(), first.entry.author, *welder, "correction",
               {{"of", at}, {"kind", "weld"}, {"reason", "test"}, {"payload", content}});
    const auto all = open_gaps(gaps(b, "OT-0001", "2026-11-26"));
    for (const std::string& id : asked) {
      INFO(id);
      CHECK(has(all, id + ":" + weld));
    }
  };
  Json changed = first.content;
  changed["amperes"] = 500;
  changed["lots"] = {"unheard-of"};
  changed["filler"] = "none such";
  changed["gas"] = "none such";
  changed["machine"] = "none such";
  changed["position"] = "PX";
  changed["preheat_c"] = -40;
  changed.erase("volts");
  now(changed, {"gap.parameter-outside", "gap.unknown-lot", "gap.unknown-batch", "gap.unknown-device",
                "gap.position", "gap.parameter-missing", "gap.not-inspected"});
  CHECK(has(gaps(b, "OT-0001", "2026-11-26"), "gap.parameter-outside:" + weld + ":amperes"));
  CHECK(has(gaps(b, "OT-0001", "2026-11-26"), "gap.parameter-outside:" + weld + ":preheat_c"));
  CHECK(has(gaps(b, "OT-0001", "2026-11-26"), "gap.unknown-batch:" + weld + ":none such"));
  Json other = first.content;
  other["run"] = 1e300;
  other["on"] = "2031-01-01";
  other.erase("gas");
  other.erase("machine");
  other["lots"] = Json::array();
  now(other, {"gap.unknown-run", "gap.day-ahead", "gap.no-batch", "gap.no-machine", "gap.no-lot"});
  now({{"frame", "OT-0001"}, {"weld", weld}}, {"gap.no-procedure", "gap.no-day"});
}

TEST_CASE("an exception holds for what stood when it was signed and for nothing that hides the rest") {
  const Folder f;
  copy_demo(f.book());
  Book b = Book::open(f.book());
  const auto engineer = b.unlock("E-1", demo_passphrase), inspector = b.unlock("I-1", demo_passphrase);
  const std::string day = "2026-11-26";
  const auto excepts = [&](const std::string& serial, const std::string& gap) {
    return refusal([&] { except_gap(b, serial, gap, "a reason", "E-1", *engineer, noon); });
  };
  CHECK(open_gaps(gaps(b, "OT-0001", day)).empty());
  CHECK(excepts("OT-0001", "gap.nothing-like-it") == "book.no-such-gap");
  const std::string weld = gaps(b, "OT-0001", day).back().weld, key = gaps(b, "OT-0001", day).back().key;
  REQUIRE_FALSE(weld.empty());
  b.append("I-1", *inspector, "inspection",
           {{"frame", "OT-0001"},
            {"weld", weld},
            {"method", "VT"},
            {"result", "accept"},
            {"tool", "G-1"},
            {"on", day}},
           noon);
  CHECK(has(open_gaps(gaps(b, "OT-0001", day)), key));  // looked at again since: to be answered for again
  CHECK(excepts("OT-0001", key).empty());
  CHECK_FALSE(has(open_gaps(gaps(b, "OT-0001", day)), key));

  b.append("I-1", *inspector, "nonconformity", {{"id", "N-9"}, {"frame", "OT-0001"}, {"what", "bent"}}, noon);
  CHECK(has(open_gaps(gaps(b, "OT-0001", day)), "gap.open-nonconformity"));
  b.append("E-1", *engineer, "disposition",
           {{"nonconformity", "N-9"}, {"frame", "OT-0001"}, {"decision", "scrap"}, {"reason", "bent"}}, noon);
  CHECK(excepts("OT-0001", "gap.scrapped:N-9") == "book.not-exceptable");
  b.append("E-1", *engineer, "exception",
           {{"frame", "OT-0001"}, {"gap", "gap.scrapped:N-9"}, {"reason", "all the same"}}, noon);
  CHECK(has(open_gaps(gaps(b, "OT-0001", day)), "gap.scrapped"));  // also not past the command

  b.append("E-1", *engineer, "frame", {{"serial", "OT-0009"}, {"design", "no such"}, {"revision", "1"}},
           noon);
  CHECK(excepts("OT-0009", "gap.design-not-frozen") == "book.not-exceptable");
  b.append("E-1", *engineer, "note", {{"text", "n"}, {"frame", "OT-0010"}}, noon);
  CHECK(excepts("OT-0010", "gap.no-frame") == "book.not-exceptable");
  CHECK(refusal([&] { release(b, "OT-0010", "E-1", *engineer, noon); }) == "book.gaps");
}

TEST_CASE("the proof of a frame is a folder that a stranger can check") {
  const Folder f;
  copy_demo(f.book());
  const Book b = Book::open_read(f.book());
  const std::string folder = f.path + "/proof";
  CHECK(write_proof(b, "OT-0002", folder) > 100);
  CHECK(refusal([&] { write_proof(b, "OT-0002", folder); }) == "book.exists");
  CHECK(refusal([&] { write_proof(b, "OT-0009", f.path + "/none"); }) == "book.unknown-frame");
  CHECK_FALSE(std::filesystem::exists(f.path + "/none"));
  CHECK(std::filesystem::exists(folder + "/check.py"));
  CHECK_FALSE(std::filesystem::is_empty(folder + "/files"));
}

TEST_CASE("any number finds what carries it and its story") {
  const Folder f;
  copy_demo(f.book());
  const Book b = Book::open_read(f.book());
  const auto heats = search(b, demo_heat, 50);
  REQUIRE_FALSE(heats.empty());
  CHECK(heats[0] == Mark{"heat", demo_heat});
  CHECK(records_behind(b, heats[0]).size() == b.find(heats[0]).size());
  // Parts of a number and small letters find it too; no more than asked for.
  const auto frames = search(b, "ot-000", 50);
  std::size_t serials = 0;
  for (const Mark& m : frames) serials += m.name == "frame";
  CHECK(serials == 4);
  CHECK(search(b, "ot-000", 2).size() == 2);
  CHECK(search(b, "", 50).empty());
  CHECK(search(b, "no such thing", 50).empty());
  // A frame's story is its trace in the order of the chain.
  const auto events = records_behind(b, {"frame", "OT-0002"});
  const Trace t = trace(b, "OT-0002");
  CHECK(events.size() == t.own.size() + t.behind.size());
  for (std::size_t i = 1; i < events.size(); ++i) CHECK(events[i - 1].entry.seq < events[i].entry.seq);
  // A day has the entries of that day.
  const std::string day = events.back().entry.time.substr(0, 10);
  CHECK(search(b, day, 50).front().name == "day");
  const auto on_day = records_behind(b, {"day", day});
  REQUIRE_FALSE(on_day.empty());
  for (const Record& r : on_day) CHECK(r.entry.time.starts_with(day));
}
