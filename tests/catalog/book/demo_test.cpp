// SPDX-License-Identifier: GPL-3.0-or-later
// The demonstration's book, frame by frame, and the proof of one.
#include "catalog/book/demo.h"

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
  const auto frames = write_demo(f.book(), "test");
  CHECK(frames.size() == 4);
  Book b = Book::open(f.book());
  const Verified v = verify(b);
  CHECK(v.problems.empty());
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
  write_demo(f.book(), "test");
  Book b = Book::open(f.book());
  const auto welder = b.unlock("W-A", demo_passphrase);
  const Record first = b.current({"frame", "OT-0001"}, "weld").at(0);
  const std::string weld = first.word("weld");
  Json changed = first.content;
  changed["amperes"] = 500;
  changed["lots"] = {"unheard-of"};
  changed["filler"] = "none such";
  changed["machine"] = "none such";
  changed["position"] = "PX";
  changed.erase("volts");
  b.append("W-A", *welder, "correction",
           {{"of", first.entry.seq}, {"kind", "weld"}, {"reason", "test"}, {"payload", changed}}, noon);
  const auto all = open_gaps(gaps(b, "OT-0001", "2026-11-26"));
  for (const char* id :
       {"gap.parameter-outside:", "gap.unknown-lot:", "gap.unknown-batch:", "gap.unknown-device:",
        "gap.position:", "gap.parameter-missing:", "gap.not-inspected:"}) {
    INFO(id);
    CHECK(has(all, id + weld));
  }
}

TEST_CASE("the proof of a frame is a folder that a stranger can check") {
  const Folder f;
  write_demo(f.book(), "test");
  const Book b = Book::open_read(f.book());
  const std::string folder = f.path + "/proof";
  CHECK(write_proof(b, "OT-0002", folder) > 100);
  CHECK(refusal([&] { write_proof(b, "OT-0002", folder); }) == "book.exists");
  CHECK(refusal([&] { write_proof(b, "OT-0009", f.path + "/none"); }) == "book.unknown-frame");
  CHECK_FALSE(std::filesystem::exists(f.path + "/none"));
  CHECK(std::filesystem::exists(folder + "/check.py"));
  CHECK_FALSE(std::filesystem::is_empty(folder + "/files"));
}
