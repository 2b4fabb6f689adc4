// SPDX-License-Identifier: GPL-3.0-or-later
// One thing wrong at a time in the demonstration's book: its gap appears, and was not there before.
#include "catalog/book/gaps.h"

#include <algorithm>
#include <functional>

#include "catalog/book/copies.h"
#include "catalog/book/demo_book.h"
#include "catalog/book/production.h"
#include "catalog/book/records.h"
#include "catalog/published/built_in.h"
#include "engine/design/design.h"
#include "tests/catalog/book/shop.h"

using namespace seamwright;
using namespace seamwright::book;

namespace {

const char* const day = "2026-11-26";

bool has(const Book& b, const std::string& serial, const std::string& start) {
  const auto all = gaps(b, serial, day);
  return std::any_of(all.begin(), all.end(), [&](const Gap& g) { return g.key.starts_with(start); });
}

std::string example(const std::string& name) {
  for (const published::DataFile& f : published::example_files())
    if (f.name == name) return f.text;
  return {};
}

std::string changed(std::string text, const std::string& from, const std::string& to, std::size_t after = 0) {
  const std::size_t at = text.find(from, after);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

struct Demo {
  Folder folder;
  Book book;
  std::unique_ptr<OpenKey> welder, engineer, inspector;
  Record first;
  std::string weld;

  Demo()
      : book([this] {
          copy_demo(folder.book());
          return Book::open(folder.book());
        }()) {
    engineer = book.unlock("E-1", demo_passphrase);
    inspector = book.unlock("I-1", demo_passphrase);
    first = book.current({"frame", "OT-0001"}, "weld").at(0);
    welder = book.unlock(first.entry.author, demo_passphrase);
    weld = first.text_of("weld");
  }
  // A calibration corrected to end on a day.
  void calibrated_until(const char* id, const char* until) {
    const Record old = book.current({"calibrated", id}, "calibration").at(0);
    Json content = old.content;
    content["until"] = until;
    book.append("E-1", *engineer, "correction",
                {{"of", old.entry.seq}, {"kind", "calibration"}, {"reason", "test"}, {"payload", content}},
                noon);
  }
  // The first weld recorded anew with one key changed.
  void weld_with(const std::string& key, const Json& value) {
    Json content = first.content;
    content[key] = value;
    const auto now = book.current({"frame", "OT-0001"}, "weld");
    const auto old =
        std::find_if(now.begin(), now.end(), [&](const Record& r) { return r.text_of("weld") == weld; });
    book.append(first.entry.author, *welder, "correction",
                {{"of", old->entry.seq}, {"kind", "weld"}, {"reason", "test"}, {"payload", content}}, noon);
  }
  void procedure(const std::string& revision, const std::string& file) {
    book.append_all(
        "E-1", *engineer,
        {{"procedure", {{"id", "TIG-BRANCH"}, {"revision", revision}}, Attachment{"p.toml", file}}}, noon);
  }
};

}  // namespace

TEST_CASE("each thing that is wrong is a gap of its own") {
  Demo d;
  const std::string sheet = example("tig-branch.toml");
  const auto appears = [&](const std::string& gap, const std::function<void()>& wrong) {
    INFO(gap);
    CHECK_FALSE(has(d.book, "OT-0001", gap));
    wrong();
    CHECK(has(d.book, "OT-0001", gap));
  };
  appears("gap.not-calibrated:" + d.weld + ":M-1", [&] { d.calibrated_until("M-1", "2026-11-01"); });
  std::string other;
  for (const std::string& batch : d.book.values_of("filler"))
    if (batch != d.first.text_of("filler")) other = batch;
  appears("gap.other-batch:" + d.weld + ":" + other, [&] { d.weld_with("filler", other); });
  appears("gap.lot-without-certificate:bare", [&] {
    d.book.append("I-1", *d.inspector, "lot", {{"id", "bare"}, {"heat", "H"}, {"certificate_type", "3.1"}},
                  noon);
    d.weld_with("lots", {"bare"});
  });
  appears("gap.lot-without-certificate:untyped", [&] {
    d.book.append_all("I-1", *d.inspector,
                      {{"lot", {{"id", "untyped"}, {"heat", "H"}}, Attachment{"c", "c"}}}, noon);
    d.weld_with("lots", {"untyped"});
  });
  appears("gap.procedure-not-frozen:" + d.weld, [&] { d.weld_with("revision", "none"); });
  appears("gap.procedure-beyond-record:TIG-BRANCH", [&] {
    d.procedure("X", changed(sheet, "wall_mm = 2", "wall_mm = 12", sheet.find("[qualification]")));
    d.weld_with("revision", "X");
  });
  appears("gap.procedure-does-not-fit:" + d.weld, [&] {
    d.procedure("Y", changed(sheet, "wall_mm = [1.5, 2.5]", "wall_mm = [9, 10]"));
    d.weld_with("revision", "Y");
  });
  appears("gap.procedure-not-qualified:TIG-BRANCH", [&] {
    d.procedure("Z", changed(sheet.substr(0, sheet.find("[qualification]")), "record = \"Q-TIG-1\"\n", ""));
    d.weld_with("revision", "Z");
  });
  d.weld_with("note", "as it was");
  appears("gap.rejected:" + d.weld + ":VT", [&] {
    d.book.append("I-1", *d.inspector, "inspection",
                  {{"frame", "OT-0001"},
                   {"weld", d.weld},
                   {"method", "VT"},
                   {"result", "reject"},
                   {"imperfection", "5012"},
                   {"tool", "G-1"},
                   {"on", day}},
                  noon);
  });
  appears("gap.planar-flaw:" + d.weld + ":VT", [&] {
    d.book.append("I-1", *d.inspector, "inspection",
                  {{"frame", "OT-0001"},
                   {"weld", d.weld},
                   {"method", "VT"},
                   {"result", "reject"},
                   {"tool", "G-1"},
                   {"on", day}},
                  noon);
  });
  appears("gap.not-calibrated:" + d.weld + ":G-1", [&] { d.calibrated_until("G-1", "2026-11-20"); });
  appears("gap.not-qualified:" + d.weld + ":" + d.first.entry.author, [&] {
    d.book.append("E-1", *d.engineer, "confirmation",
                  {{"certificate", "A-1"}, {"on", day}, {"withdraws", true}}, noon);
  });
  appears("gap.not-repaired:N-7", [&] {
    d.book.append("I-1", *d.inspector, "nonconformity",
                  {{"id", "N-7"}, {"frame", "OT-0001"}, {"what", "bent"}}, noon);
    d.book.append(
        "E-1", *d.engineer, "disposition",
        {{"nonconformity", "N-7"}, {"frame", "OT-0001"}, {"decision", "repair"}, {"reason", "bent"}}, noon);
  });
  appears("gap.weld-not-drawn:W-none", [&] {
    force(d.folder.book(), d.first.entry.author, *d.welder, "weld",
          {{"frame", "OT-0001"}, {"weld", "W-none"}});
  });
}

TEST_CASE("a root that counts as fused needs its proof in the book") {
  Demo d;
  d.procedure("F", changed(example("tig-branch.toml"), "root = \"not-fused\"", "root = \"fused\""));
  const std::string design = example("design.toml");
  const std::size_t first = design.find("[[weld]]");
  d.book.append_all("E-1", *d.engineer,
                    {{"design",
                      {{"name", "proven"}, {"revision", "1"}},
                      Attachment{"design.toml", changed(design, "[[weld]]",
                                                        "[[weld]]\nroot_proof = \"MACRO-TIG-1\"", first)}}},
                    noon);
  d.book.append("E-1", *d.engineer, "frame", {{"serial", "OT-0020"}, {"design", "proven"}, {"revision", "1"}},
                noon);
  Json weld = d.first.content;
  weld["frame"] = "OT-0020";
  weld["revision"] = "F";
  d.book.append(d.first.entry.author, *d.welder, "weld", weld, noon);
  CHECK_FALSE(has(d.book, "OT-0020", "gap.design-unreadable"));
  CHECK(has(d.book, "OT-0020", "gap.root-proof"));
  CHECK(has(d.book, "OT-0020", "gap.not-rated"));
  d.book.append("E-1", *d.engineer, "qualification", {{"id", "MACRO-TIG-1"}, {"root", "fused"}}, noon);
  CHECK_FALSE(has(d.book, "OT-0020", "gap.root-proof"));
  // Test pieces between the frames: a weld is in doubt where the one before or the one behind it shows an open root.
  const auto cut_open = [&](int open, int fused = 4) {
    d.book.append("I-1", *d.inspector, "production-test",
                  {{"procedure", "TIG-BRANCH"}, {"on", "2026-11-26"}, {"fused_sections", fused}, {"open_sections", open}}, noon);
  };
  const auto weld_on = [&](const char* serial) {
    d.book.append("E-1", *d.engineer, "frame", {{"serial", serial}, {"design", "proven"}, {"revision", "1"}}, noon);
    weld["frame"] = serial;
    d.book.append(d.first.entry.author, *d.welder, "weld", weld, noon);
  };
  cut_open(0);
  weld_on("OT-0022");
  CHECK_FALSE(has(d.book, "OT-0022", "gap.production-test-open"));
  cut_open(1);
  CHECK(has(d.book, "OT-0022", "gap.production-test-open"));
  CHECK_FALSE(has(d.book, "OT-0020", "gap.production-test-open"));  // a good one stands between
  weld_on("OT-0023");
  cut_open(0, 0);  // nothing was cut: it clears nothing
  weld_on("OT-0025");
  CHECK(has(d.book, "OT-0025", "gap.production-test-open"));
  cut_open(0);
  CHECK(has(d.book, "OT-0023", "gap.production-test-open"));
  weld_on("OT-0024");
  CHECK_FALSE(has(d.book, "OT-0024", "gap.production-test-open"));
  // Welded anew after a good one, the weld is out of doubt.
  weld["frame"] = "OT-0025";
  d.book.append(d.first.entry.author, *d.welder, "weld", weld, noon);
  CHECK_FALSE(has(d.book, "OT-0025", "gap.production-test-open"));
  const auto doubted = gaps(d.book, "OT-0022", day);
  const auto open_root = std::find_if(doubted.begin(), doubted.end(), [](const Gap& g) { return g.key.starts_with("gap.production-test-open"); });
  CHECK_FALSE(open_root->exceptable);
  d.book.append_all("E-1", *d.engineer,
                    {{"design", {{"name", "broken"}, {"revision", "1"}}, Attachment{"d", "no design"}}},
                    noon);
  d.book.append("E-1", *d.engineer, "frame", {{"serial", "OT-0021"}, {"design", "broken"}, {"revision", "1"}},
                noon);
  CHECK(has(d.book, "OT-0021", "gap.design-unreadable"));
}

namespace {

// A frame that counts on fused roots, welded by a procedure whose record is of a day; further frames beside it.
struct FusedShop : Demo {
  Json weld_of_first;
  explicit FusedShop(const std::string& record_day) {
    std::string sheet = changed(example("tig-branch.toml"), "root = \"not-fused\"", "root = \"fused\"");
    const std::size_t record = sheet.find("[qualification]");
    const std::size_t date = sheet.find("date = \"", record) + 8;
    sheet.replace(date, 10, record_day);
    procedure("F", sheet);
    const std::string design = example("design.toml");
    book.append_all("E-1", *engineer,
                    {{"design", {{"name", "proven"}, {"revision", "1"}},
                      Attachment{"design.toml", changed(design, "[[weld]]", "[[weld]]\nroot_proof = \"MACRO-TIG-1\"", design.find("[[weld]]"))}}},
                    noon);
    weld_of_first = first.content;
    weld_of_first["revision"] = "F";
  }
  void begin(const std::string& serial, const std::string& time = noon) {
    book.append("E-1", *engineer, "frame", {{"serial", serial}, {"design", "proven"}, {"revision", "1"}}, time);
  }
  void weld_on(const std::string& serial, const std::string& on = day, const std::string& time = noon) {
    weld_of_first["frame"] = serial;
    weld_of_first["on"] = on;
    book.append(first.entry.author, *welder, "weld", weld_of_first, time);
  }
  void cut(int fused, int open, const std::string& on = day, const std::string& time = noon) {
    book.append("I-1", *inspector, "production-test",
                {{"procedure", "TIG-BRANCH"}, {"on", on}, {"fused_sections", fused}, {"open_sections", open}}, time);
  }
  // The interval's gap of a frame, or "".
  std::string interval(const std::string& serial, const std::string& on = day) const {
    for (const Gap& g : gaps(book, serial, on))
      if (g.what.id == "gap.production-test-due" || g.what.id == "gap.production-test-missing") return g.what.id.text();
    return "";
  }
};

}  // namespace

TEST_CASE("a procedure whose root counts as fused has a production test once in twelve months") {
  // Common practice: 12 months or 25 frames. The record's own test counts from its day, to the day.
  FusedShop in_time("2025-11-26"), late("2025-11-25");
  for (FusedShop* s : {&in_time, &late}) {
    s->begin("T-1");
    s->weld_on("T-1");
  }
  CHECK(in_time.interval("T-1").empty());
  CHECK(late.interval("T-1") == "gap.production-test-due");
  // The day said does not make it younger: the weld was signed for on the 26th.
  late.begin("T-2");
  late.weld_on("T-2", "2025-11-20");
  CHECK(late.interval("T-2") == "gap.production-test-due");
  // A piece with an open root, or none cut, closes nothing; a good one within these days does.
  late.cut(0, 0);
  CHECK(late.interval("T-1") == "gap.production-test-due");
  late.cut(3, 0);
  CHECK(late.interval("T-1").empty());
  // Corrected to an earlier day it is older, and never younger than when it was signed for.
  const Record piece = late.book.current({"procedure", "TIG-BRANCH"}, "production-test").back();
  Json older = piece.content;
  older["on"] = "2025-01-01";
  late.book.append("I-1", *late.inspector, "correction", {{"of", piece.entry.seq}, {"kind", "production-test"}, {"reason", "r"}, {"payload", older}}, noon);
  CHECK(late.interval("T-1") == "gap.production-test-due");
  older["on"] = "2027-06-01";
  const Record now = late.book.current({"procedure", "TIG-BRANCH"}, "production-test").back();
  late.book.append("I-1", *late.inspector, "correction", {{"of", now.entry.seq}, {"kind", "production-test"}, {"reason", "r"}, {"payload", older}},
                   "2027-06-01T12:00:00Z");
  late.begin("T-3", "2027-12-01T12:00:00Z");
  late.weld_on("T-3", "2027-12-01", "2027-12-01T12:00:00Z");
  CHECK(late.interval("T-3", "2027-12-01") == "gap.production-test-due");  // its day is that of the first signature
  CHECK(verify(late.book).problems.empty());
}

TEST_CASE("a procedure whose root counts as fused has a production test once in twenty-five frames, however they are begun") {
  FusedShop s("2026-10-01");
  s.cut(4, 0);
  for (int i = 1; i <= 13; ++i) s.begin("N-" + std::to_string(i));
  for (int i = 1; i <= 25; ++i) {
    if (i > 13) s.begin("N-" + std::to_string(i));
    s.weld_on("N-" + std::to_string(i));
  }
  CHECK(s.interval("N-1").empty());
  CHECK(s.interval("N-25").empty());
  s.begin("N-26");
  s.weld_on("N-26");
  CHECK(s.interval("N-26") == "gap.production-test-due");
  CHECK(s.interval("N-25").empty());
  const auto due = production_due(s.book, *qualification::read_date(day));
  const auto tig = std::find_if(due.begin(), due.end(), [](const ProductionDue& d) { return d.procedure == "TIG-BRANCH"; });
  REQUIRE(tig != due.end());
  CHECK(tig->counts_on_fusion);
  CHECK(tig->frames == 26);
  CHECK(tig->frames_left == 0);
  CHECK(tig->overdue);
  CHECK(qualification::text_of(*tig->by) == "2027-11-26");
  // A frame that is welded twice counts once, and frames of before the piece do not count behind it.
  s.cut(4, 0);
  CHECK(s.interval("N-26").empty());
  for (int i = 1; i <= 3; ++i) s.weld_on("N-26");
  const auto fresh = production_due(s.book, *qualification::read_date(day));
  const auto again = std::find_if(fresh.begin(), fresh.end(), [](const ProductionDue& d) { return d.procedure == "TIG-BRANCH"; });
  CHECK(again->frames == 1);
  CHECK_FALSE(again->overdue);
  for (const ProductionDue& d : fresh)
    if (d.procedure != "TIG-BRANCH") CHECK_FALSE(d.counts_on_fusion);
}

TEST_CASE("frames since the last good production test are recalled by an open one, and its sections decide in a rating") {
  FusedShop s("2026-10-01");
  s.begin("R-1");
  s.weld_on("R-1");
  s.cut(4, 0);
  s.begin("R-2");
  s.weld_on("R-2");
  const auto recalled = [&] {
    std::string all;
    for (const Carrier& c : recall(s.book, {"production-test", "TIG-BRANCH"}, day)) all += c.serial + " ";
    return all;
  };
  CHECK(recalled().empty());
  design::Design design;
  design.welds.resize(2);
  design.welds[0].procedure = design.welds[1].procedure = "TIG-BRANCH";
  design.welds[0].root_proven = true;
  design.welds[0].root_macros = 4;
  design::Design fewer = design;
  CHECK(count_production_tests(s.book, design).size() == 1);
  CHECK(design.welds[0].root_macros == 8);
  CHECK(design.welds[1].root_macros == 0);  // without a proof of its own it gains nothing
  CHECK_FALSE(design.welds[1].root_proven);
  s.cut(4, 0);  // the same piece entered twice
  design = fewer;
  count_production_tests(s.book, design);
  CHECK(design.welds[0].root_macros == 8);
  s.cut(3, 1);
  CHECK(recalled().empty());  // R-2 stands between two good ones
  s.begin("R-3");
  s.weld_on("R-3");
  CHECK(recalled() == "R-3 ");
  s.weld_on("R-2");
  CHECK(recalled() == "R-2 R-3 ");
  design = fewer;
  count_production_tests(s.book, design);
  CHECK_FALSE(design.welds[0].root_proven);
  CHECK(design.welds[0].root_doubt.id == "macro.production-open");
  CHECK(design.welds[0].root_macros == 0);
  CHECK(refusal([&] { recall(s.book, {"production-test", "TIG-BRNCH"}, day); }) == "book.unknown-mark");
}

TEST_CASE("a nonconformity stays open until its own weld is repaired after the decision") {
  Demo d;
  const auto welds = d.book.current({"frame", "OT-0004"}, "weld");
  const Record& mine = welds.at(0);
  const Record& other = welds.at(1);
  const auto repair = [&](const Record& of, const char* named) {
    Json content = of.content;
    content["nonconformity"] = named;
    const auto key = d.book.unlock(of.entry.author, demo_passphrase);
    d.book.append(of.entry.author, *key, "repair", content, noon);
  };
  const auto decide = [&](const char* frame) {
    d.book.append("E-1", *d.engineer, "disposition", {{"nonconformity", "N-8"}, {"frame", frame}, {"decision", "repair"}, {"reason", "r"}}, noon);
  };
  d.book.append("I-1", *d.inspector, "nonconformity", {{"id", "N-8"}, {"frame", "OT-0004"}, {"weld", mine.text_of("weld")}, {"what", "undercut"}}, noon);
  CHECK(has(d.book, "OT-0004", "gap.open-nonconformity:" + mine.text_of("weld")));
  decide("OT-0003");  // of that name on another frame
  CHECK(has(d.book, "OT-0004", "gap.open-nonconformity"));
  repair(mine, "N-8");  // before the decision
  decide("OT-0004");
  CHECK(has(d.book, "OT-0004", "gap.not-repaired"));
  repair(other, "N-8");  // another weld
  CHECK(has(d.book, "OT-0004", "gap.not-repaired"));
  repair(mine, "N-9");  // another finding
  CHECK(has(d.book, "OT-0004", "gap.not-repaired"));
  repair(mine, "N-8");
  CHECK_FALSE(has(d.book, "OT-0004", "gap.not-repaired"));
  // Other words of the same decision do not open it again; a decision that is taken anew does.
  const Record decision = d.book.current({"nonconformity", "N-8"}, "disposition").back();
  Json words = decision.content;
  words["reason"] = "ground and welded once more";
  d.book.append("E-1", *d.engineer, "correction", {{"of", decision.entry.seq}, {"kind", "disposition"}, {"reason", "r"}, {"payload", words}}, noon);
  CHECK_FALSE(has(d.book, "OT-0004", "gap.not-repaired"));
  decide("OT-0004");
  CHECK(has(d.book, "OT-0004", "gap.not-repaired"));
}

TEST_CASE("of several certificates the one that covers is told, and a prolongation needs its records") {
  Demo d;
  const FrameState state = state_of(d.book, "OT-0001", day);
  REQUIRE(state.covered_by.contains(d.weld));
  const std::string covering = state.covered_by.at(d.weld);
  bool two = false;
  for (const auto& [weld, id] : state.covered_by) two = two || id != covering;
  CHECK(two);
  // Two years on, all confirmed, prolonged by a signature alone.
  const std::string author = d.first.entry.author, later = "2028-02-01";
  const Record certificate = d.book.current({"certificate", covering}, "certificate").at(0);
  for (const char* on : {"2027-05-10", "2027-11-05"})
    d.book.append("E-1", *d.engineer, "confirmation", {{"certificate", covering}, {"on", on}}, std::string(on) + "T12:00:00Z");
  const auto prolong = [&](Json with, bool attach) {
    with["certificate"] = covering;
    with["on"] = "2027-11-20";
    with["prolongs"] = true;
    NewEntry entry{"confirmation", with, std::nullopt};
    if (attach) entry.file = Attachment{"rt.pdf", "films"};
    d.book.append_all("E-1", *d.engineer, {entry}, "2027-11-20T12:00:00Z");
  };
  const auto qualified = [&] {
    Json weld = d.first.content;
    weld["on"] = later;
    d.book.append(author, *d.welder, "weld", weld, later + "T12:00:00Z");
    for (const Gap& g : gaps(d.book, "OT-0001", later))
      if (g.what.id == "gap.not-qualified" && g.weld == d.weld) return false;
    return true;
  };
  CHECK_FALSE(qualified());  // the second year has ended
  prolong(Json::object(), false);
  CHECK_FALSE(qualified());
  const Json tests{{"first_on", "2027-10-01"}, {"first_method", "RT"}, {"second_on", "2027-10-08"}, {"second_method", "destructive"}};
  prolong(tests, false);
  CHECK_FALSE(qualified());
  Json one = tests;
  one.erase("second_on");
  prolong(one, true);
  CHECK_FALSE(qualified());
  // Signatures without evidence are made void; the same with its records holds.
  for (const Record& r : d.book.current({"certificate", covering}, "confirmation"))
    if (r.content.value("prolongs", false)) d.book.append("E-1", *d.engineer, "void", {{"of", r.entry.seq}, {"reason", "no records"}}, "2027-11-20T13:00:00Z");
  prolong(tests, true);
  CHECK(qualified());
}
