// SPDX-License-Identifier: GPL-3.0-or-later
// Production tests under attack: an open root that is signed away, a piece judged by its welder, an inspector of level 1 who evaluates, a
// frame shipped over an open root.
#include "catalog/book/gaps.h"
#include "catalog/book/quality.h"
#include "tests/attack/keyed.h"

using namespace seamwright;
using namespace seamwright::book;

namespace {

Json piece(const std::string& procedure, int fused, int open) {
  return {{"procedure", procedure}, {"on", today}, {"fused_sections", fused}, {"open_sections", open}};
}

}  // namespace

TEST_CASE("an open root does not go away by who signed it, and nobody judges a piece of their own") {
  Keyed d;
  CHECK(d.says("I-1", "production-test", piece("TIG-BRANCH", 3, 2)).empty());
  const Record open = d.book.current({"procedure", "TIG-BRANCH"}, "production-test").back();
  d.breaks("rule.open-section-withdrawn", "I-1", "void", {{"of", open.entry.seq}, {"reason", "r"}});
  d.breaks("rule.open-section-withdrawn", "I-1", "correction", d.correction(open, piece("TIG-BRANCH", 4, 1)));
  d.breaks("rule.open-section-withdrawn", "I-1", "correction", d.correction(open, piece("MAG-FILLET", 3, 2)));
  // More open ones may be told by whoever signed; an engineer who did not looks again.
  CHECK(d.says("I-1", "correction", d.correction(open, piece("TIG-BRANCH", 2, 3))).empty());
  const Record now = d.book.current({"procedure", "TIG-BRANCH"}, "production-test").back();
  CHECK(d.says("E-1", "correction", d.correction(now, piece("TIG-BRANCH", 5, 0))).empty());
  CHECK(d.says("E-1", "production-test", piece("TIG-BRANCH", 0, 1)).empty());
  const Record own = d.book.current({"procedure", "TIG-BRANCH"}, "production-test").back();
  d.breaks("rule.open-section-withdrawn", "E-1", "void", {{"of", own.entry.seq}, {"reason", "r"}});
  CHECK(d.says("O", "void", {{"of", own.entry.seq}, {"reason", "seen once more"}}).empty());
  Json mine = piece("TIG-BRANCH", 4, 0);
  mine["welder"] = "I-1";
  d.breaks("rule.own-piece", "I-1", "production-test", mine);
  mine["welder"] = "W-A";
  CHECK(d.says("I-1", "production-test", mine).empty());
  d.breaks("rule.number-outside", "I-1", "production-test", piece("TIG-BRANCH", -1, 0));
  CHECK(verify(d.book).problems.empty());
}

TEST_CASE("level 1 does not evaluate alone") {
  Keyed d;
  const std::string weld = d.weld_of("OT-0003", "W-A").text_of("weld");
  const auto certified = [&](const char* id, int level) {
    return d.says("E-1", "inspector-certificate",
                  {{"id", id}, {"person", "I-1"}, {"method", "UT"}, {"level", level}, {"tested", "2026-02-10"}, {"until", "2031-02-09"}});
  };
  d.breaks("rule.method-not-held", "I-1", "inspection", look_at("OT-0003", weld, "UT"));
  CHECK(certified("N-UT-1", 1).empty());
  d.breaks("rule.level-one", "I-1", "inspection", look_at("OT-0003", weld, "UT"));
  CHECK(certified("N-UT-2", 2).empty());
  CHECK(d.says("I-1", "inspection", look_at("OT-0003", weld, "UT")).empty());
}

TEST_CASE("a frame is not shipped over an open root that was found behind its release") {
  const Json shipment{{"order", "B"}, {"frames", {"OT-0002"}}, {"on", today}};
  const auto released = [](Keyed& d) { return state_of(d.book, "OT-0002", today).release.has_value(); };
  Keyed d;
  const std::string procedure = d.weld_of("OT-0002", "W-A").text_of("procedure");
  CHECK(d.says("I-1", "production-test", piece(procedure, 0, 0)).empty());  // nothing was cut
  CHECK(released(d));
  CHECK(d.says("I-1", "production-test", piece(procedure, 3, 1)).empty());
  CHECK_FALSE(released(d));
  d.breaks("rule.not-released", "E-1", "shipment", shipment);
  // A good piece behind it does not clear the frame that stands before the open one; the engineer's new release does.
  CHECK(d.says("I-1", "production-test", piece(procedure, 4, 0)).empty());
  d.breaks("rule.not-released", "E-1", "shipment", shipment);
  release(d.book, "OT-0002", "E-1", *d.keys.at("E-1"), noon);
  CHECK(released(d));
  CHECK(d.says("E-1", "shipment", shipment).empty());
  // What shows after it has left does not undo its release, and is recalled.
  CHECK(verify(d.book).refused.empty());
  Keyed between;
  CHECK(between.says("I-1", "production-test", piece(procedure, 4, 0)).empty());
  CHECK(between.says("I-1", "production-test", piece(procedure, 0, 4)).empty());
  CHECK(released(between));  // a good one stands next behind its welds
  CHECK(between.says("E-1", "shipment", shipment).empty());
}

TEST_CASE("a missing welding coordinator is told, and nobody else acts for one") {
  Keyed d;
  const auto acts = [&] { return quality_index(d.book, today).has_coordinator(); };
  const auto named = [](const char* person) { return Json{{"person", person}, {"knowledge", "specific"}, {"on", "2026-11-01"}}; };
  CHECK(d.says("E-1", "coordinator", named("E-1")) == "book.role");
  const bool before = acts();
  CHECK_FALSE(before);
  CHECK(d.says("O", "coordinator", named("nobody")).empty());
  CHECK_FALSE(acts());  // who is not in the book coordinates nothing
  Json ended = named("E-1");
  ended["until"] = "2026-11-25";
  CHECK(d.says("O", "coordinator", ended).empty());
  CHECK_FALSE(acts());
  CHECK(d.says("O", "coordinator", named("E-1")).empty());
  CHECK(acts());
  CHECK(d.says("O", "revoke", {{"id", "E-1"}}).empty());
  CHECK_FALSE(acts());
  CHECK(verify(d.book).problems.empty());
}
