// SPDX-License-Identifier: GPL-3.0-or-later
// One thing wrong at a time in the demonstration's book: its gap appears, and was not there before.
#include "catalog/book/gaps.h"

#include <algorithm>
#include <functional>

#include "catalog/book/copies.h"
#include "catalog/book/demo_book.h"
#include "catalog/published/built_in.h"
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
