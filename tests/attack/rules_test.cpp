// SPDX-License-Identifier: GPL-3.0-or-later
// A person has a key and says what is not theirs to say: refused at the door, and told by verify where it
// came in past it.
#include <algorithm>

#include "catalog/book/gaps.h"
#include "catalog/book/gaps_inside.h"
#include "catalog/book/quality.h"
#include "tests/attack/keyed.h"

using namespace seamwright;
using namespace seamwright::book;

TEST_CASE("a release passes its gate or there is none") {
  Keyed d;
  const Record frame = d.book.current({"frame", "OT-0003"}, "frame").at(0);
  const Json sha = design_of(d.book, frame)->content["file"]["sha256"];
  d.breaks("book.gaps", "E-1", "release", {{"frame", "OT-0003"}, {"on", today}, {"design_sha256", sha}});
  d.breaks("book.gaps", "I-1", "release", {{"frame", "OT-0004"}, {"on", today}, {"design_sha256", sha}});
  d.breaks("book.unknown-frame", "E-1", "release",
           {{"frame", "OT-9999"}, {"on", today}, {"design_sha256", sha}});
  // The frame that may leave, by another design or with other exceptions than there are.
  d.breaks("rule.release-differs", "E-1", "release",
           {{"frame", "OT-0001"}, {"on", today}, {"design_sha256", "x"}});
  d.breaks("rule.release-differs", "E-1", "release",
           {{"frame", "OT-0001"}, {"on", today}, {"design_sha256", sha}, {"exceptions", 0}});
  CHECK(d.says("E-1", "release", {{"frame", "OT-0001"}, {"on", today}, {"design_sha256", sha}}).empty());
  // Kept as a draft it is asked when it is signed.
  d.book.keep_draft("E-1", {"release", {{"frame", "OT-0003"}, {"on", today}, {"design_sha256", sha}}}, noon);
  CHECK(refusal([&] {
          d.book.sign_drafts("E-1", *d.keys.at("E-1"), digest_of(d.book.drafts("E-1")), noon);
        }) == "book.gaps");
  // A release of its day is judged by that day, whatever came after.
  CHECK(d.says("I-1", "nonconformity", {{"id", "N-1"}, {"frame", "OT-0001"}, {"what", "bent"}}).empty());
  CHECK(verify(d.book).refused.empty());
}

TEST_CASE("nobody takes back what another saw, or what was found on a weld of their own") {
  Keyed d;
  const Record mine = d.weld_of("OT-0001", "W-A");
  const std::string weld = mine.text_of("weld");
  CHECK(
      d.says("I-1", "nonconformity", {{"id", "N-2"}, {"frame", "OT-0001"}, {"weld", weld}, {"what", "crack"}})
          .empty());
  const std::int64_t found = d.book.last_entry()->seq;
  d.breaks("rule.own-finding", "W-A", "void", {{"of", found}, {"reason", "r"}});
  d.breaks("rule.not-theirs", "W-B", "void", {{"of", found}, {"reason", "r"}});
  const Record other = d.book.current({"frame", "OT-0001"}, "inspection").at(0);
  d.breaks("rule.not-theirs", "O", "void", {{"of", other.entry.seq}, {"reason", "r"}});
  d.breaks("rule.not-theirs", "O", "correction", d.correction(other, other.content));
  // Its author may, and who outranks the author of anything else.
  CHECK(d.says("I-1", "void", {{"of", other.entry.seq}, {"reason", "r"}}).empty());
  CHECK(d.says("E-1", "void", {{"of", found}, {"reason", "r"}}).empty());
  CHECK(d.says("W-B", "void", {{"of", mine.entry.seq}, {"reason", "r"}}) == "rule.not-theirs");
}

TEST_CASE("the day of a weld does not move by who welded it") {
  Keyed d;
  const Record lapsed = d.weld_of("OT-0003", "W-B");
  Json earlier = lapsed.content;
  earlier["on"] = "2026-01-12";
  d.breaks("rule.day-moved", "W-B", "correction", d.correction(lapsed, earlier));
  Json later = lapsed.content;
  later["on"] = today;
  d.breaks("rule.day-beyond-entry", "W-B", "correction", d.correction(lapsed, later));
  // Nor by making the old entry void and saying it anew.
  CHECK(d.says("W-B", "void", {{"of", lapsed.entry.seq}, {"reason", "r"}}).empty());
  d.breaks("rule.day-moved", "W-B", "weld", earlier);
  // An engineer may; that it was signed for after the lapse stays a gap.
  const Record again = [&] {
    CHECK(d.says("W-B", "weld", lapsed.content).empty());
    return d.book.record(d.book.last_entry()->seq).value();
  }();
  CHECK(d.says("E-1", "correction", d.correction(again, earlier)).empty());
  const auto all = gaps(d.book, "OT-0003", today);
  CHECK(std::any_of(all.begin(), all.end(), [&](const Gap& g) {
    return g.weld == lapsed.text_of("weld") &&
           (g.what.id == "gap.signed-unqualified" || g.what.id == "gap.not-qualified");
  }));
  const Record seen = d.book.current({"frame", "OT-0001"}, "inspection").at(0);
  Json moved = seen.content;
  moved["on"] = "2026-11-14";
  d.breaks("rule.day-moved", "I-1", "correction", d.correction(seen, moved));
}

TEST_CASE("who welds signs for it and another looks at it") {
  Keyed d;
  const Record of_a = d.weld_of("OT-0001", "W-A");
  const Json as_a{{"frame", "OT-0004"}, {"weld", of_a.text_of("weld")}, {"welder", "W-A"}};
  d.breaks("rule.other-welder", "W-B", "weld", as_a);
  d.breaks("rule.other-welder", "O", "weld", as_a);
  Json handed_on = of_a.content, nobody = of_a.content;
  handed_on["welder"] = "W-C";
  nobody.erase("welder");
  d.breaks("rule.other-welder", "W-A", "correction", d.correction(of_a, handed_on));
  d.breaks("rule.other-welder", "E-1", "correction", d.correction(of_a, nobody));
  Json by_owner = as_a;
  by_owner["welder"] = "O";
  CHECK(d.says("O", "weld", by_owner).empty());
  d.breaks("rule.own-weld", "O", "inspection", look_at("OT-0004", of_a.text_of("weld"), "VT"));
  CHECK(d.says("I-1", "inspection", look_at("OT-0004", of_a.text_of("weld"), "VT")).empty());
  CHECK(d.says("O", "inspection", look_at("OT-0001", of_a.text_of("weld"), "VT")).empty());
}

TEST_CASE("welds that are not drawn, methods that nobody knows, days that lie ahead, times that are none") {
  Keyed d;
  const std::string weld = d.weld_of("OT-0001", "W-A").text_of("weld");
  d.breaks("rule.no-frame", "W-A", "weld", {{"frame", "OT-4"}, {"weld", weld}});
  CHECK(d.says("W-A", "weld", {{"frame", "OT-4"}, {"weld", weld}, {"reason", "not drawn up yet"}}).empty());
  d.breaks("rule.weld-not-drawn", "W-A", "weld", {{"frame", "OT-0004"}, {"weld", "W999"}});
  d.breaks("rule.weld-not-drawn", "I-1", "inspection", look_at("OT-0004", "W999", "VT"));
  d.breaks("rule.weld-not-drawn", "I-1", "nonconformity",
           {{"id", "N"}, {"frame", "OT-0004"}, {"weld", "W999"}, {"what", "x"}});
  d.breaks("rule.unknown-method", "I-1", "inspection", look_at("OT-0004", weld, "EYE"));
  d.breaks("rule.unknown-method", "I-1", "inspection", look_at("OT-0004", weld, "vt"));
  Json ahead{{"frame", "OT-0004"}, {"weld", weld}, {"on", "2026-11-28"}};
  d.breaks("rule.day-ahead", "W-A", "weld", ahead);
  d.breaks("rule.day-ahead", "E-1", "confirmation", {{"certificate", "A-1"}, {"on", "2027-03-01"}});
  d.breaks("rule.day-ahead", "I-1", "lot", {{"id", "L"}, {"heat", "H"}, {"delivered", "2027-03-01"}});
  d.breaks("rule.bad-time", "W-A", "note", {{"text", "n"}}, "noon");
  d.breaks("rule.frame-twice", "E-1", "frame",
           {{"serial", "OT-0001"}, {"design", "other"}, {"revision", "1"}});
  // The next day has begun in the east at noon UTC; a calibration may end ahead; a crack is never refused.
  ahead["on"] = "2026-11-27";
  CHECK(d.says("W-A", "weld", ahead).empty());
  CHECK(d.says("E-1", "calibration", {{"of", "M-1"}, {"on", today}, {"until", "2027-11-26"}}).empty());
  CHECK(d.says("W-A", "field-report",
               {{"frame", "OT-0001"}, {"on", today}, {"what", "x"}, {"weld", "W999"}, {"cracked", true}})
            .empty());
  CHECK(verify(d.book).refused.empty());
}

TEST_CASE("a number beyond what its field can be is refused and told") {
  Keyed d;
  const auto lot = [](double wall_mm) {
    return Json{{"id", "L-new"}, {"heat", "H-new"}, {"wall_mm", wall_mm}};
  };
  d.breaks("rule.number-outside", "I-1", "lot", lot(-1.5));
  CHECK(d.says("I-1", "lot", lot(1.5)).empty());
  const auto weld = [](const char* key, double value) {
    return Json{{"frame", "OT-0004"}, {"weld", "W41"}, {"welder", "W-A"}, {key, value}};
  };
  d.breaks("rule.number-outside", "W-A", "weld", weld("interpass_c", -300));
  d.breaks("rule.number-outside", "W-A", "weld", weld("gap_mm", 20.5));
  d.breaks("rule.number-outside", "W-A", "weld", weld("run", 0));
  CHECK(d.says("W-A", "weld", weld("gap_mm", 0)).empty());
  CHECK(d.says("W-A", "weld", weld("preheat_c", -10)).empty());
}

TEST_CASE("nobody signs away, decides or ships what they may not") {
  Keyed d;
  const std::string weld = d.weld_of("OT-0003", "W-A").text_of("weld");
  CHECK(d.says("E-1", "weld", {{"frame", "OT-0004"}, {"weld", weld}, {"welder", "E-1"}}).empty());
  const auto exception = [](const std::string& gap) { return Json{{"frame", "OT-0004"}, {"gap", gap}, {"reason", "r"}}; };
  d.breaks("rule.own-exception", "E-1", "exception", exception("gap.no-lot:" + weld));
  d.breaks("rule.own-exception", "E-1", "exception", exception("gap.not-rated"));
  d.breaks("rule.own-disposition", "E-1", "disposition",
           {{"nonconformity", "N"}, {"frame", "OT-0004"}, {"decision", "use-as-is"}, {"reason", "r"}});
  const std::string other = d.book.current({"frame", "OT-0004"}, "weld").at(0).text_of("weld");
  if (other != weld) CHECK(d.says("E-1", "exception", exception("gap.no-lot:" + other)).empty());
  CHECK(d.says("E-1", "exception", {{"frame", "OT-0003"}, {"gap", "gap.not-rated"}, {"reason", "r"}}).empty());
  d.breaks("rule.method-not-held", "I-1", "inspection", look_at("OT-0003", weld, "UT"));
  Json too_early = look_at("OT-0003", weld, "PT");
  too_early["on"] = "2026-01-31";
  d.breaks("rule.method-not-held", "I-1", "inspection", too_early);
  CHECK(d.says("I-1", "inspection", look_at("OT-0003", weld, "PT")).empty());
  const auto shipment = [](const char* frame) { return Json{{"order", "B"}, {"frames", {frame}}, {"on", today}}; };
  d.breaks("rule.not-released", "E-1", "shipment", shipment("OT-0003"));
  d.breaks("rule.not-released", "E-1", "shipment", shipment("OT-9999"));
  CHECK(d.says("E-1", "shipment", shipment("OT-0002")).empty());
}

TEST_CASE("an audit finding is answered and closed by the right people, and keeps a frame in") {
  Keyed d;
  d.book.admit_person("O", *d.keys.at("O"), "A-2", "A2", "auditor", demo_passphrase, noon);
  d.keys["A-2"] = d.book.unlock("A-2", demo_passphrase);
  const Json action{{"finding", "AF-7"}, {"what", "plan made"}, {"on", today}}, closing{{"finding", "AF-7"}, {"reason", "seen"}, {"on", today}};
  d.breaks("rule.no-finding", "E-1", "corrective-action", action);
  d.breaks("rule.no-finding", "A-1", "audit-closing", closing);
  CHECK(d.says("E-1", "audit-finding", {{"id", "AF-7"}, {"what", "x"}, {"on", today}}) == "book.role");
  CHECK(d.says("A-1", "audit-finding", {{"id", "AF-7"}, {"frame", "OT-0002"}, {"what", "no plan"}, {"on", today}}).empty());
  const auto open = [&] {
    const auto all = gaps(d.book, "OT-0002", today);
    return std::any_of(all.begin(), all.end(), [](const Gap& g) { return g.what.id == "gap.audit-finding"; });
  };
  CHECK(open());
  CHECK(d.says("E-1", "corrective-action", action).empty());
  CHECK(open());
  d.breaks("rule.finding-not-closed", "A-2", "audit-closing", closing);
  CHECK(d.says("A-1", "audit-closing", closing).empty());
  CHECK_FALSE(open());
  const QualityIndex index = quality_index(d.book, today);
  REQUIRE(index.findings.size() == 2);  // with that of the demonstration
  CHECK(index.findings[1].closed_by == "A-1");
  CHECK(index.findings[1].acted);
}

TEST_CASE("no signature releases a frame that is to be ridden with a gap that grows, and a rig's may be") {
  for (const MessageId id : {MessageId("gap.parameter-outside"), MessageId("gap.position"), MessageId("gap.not-calibrated"), MessageId("gap.rejected")})
    CHECK(is_exceptable(id, false));
  for (const MessageId id : {MessageId("gap.planar-flaw"), MessageId("gap.no-welder"), MessageId("gap.no-certificate"), MessageId("gap.not-qualified"),
                             MessageId("gap.signed-unqualified"), MessageId("gap.procedure-not-qualified"), MessageId("gap.procedure-beyond-record"),
                             MessageId("gap.no-lot"), MessageId("gap.unknown-lot"), MessageId("gap.lot-other"), MessageId("gap.rating"), MessageId("gap.not-rated"),
                             // A thing left out is no better than a thing done wrong.
                             MessageId("gap.weld-missing"), MessageId("gap.not-inspected"), MessageId("gap.no-day"), MessageId("gap.root-proof"),
                             MessageId("gap.rating-not-covered"), MessageId("gap.open-nonconformity"), MessageId("gap.no-batch"), MessageId("gap.audit-finding"),
                             MessageId("gap.procedure-does-not-fit")}) {
    INFO(id.text());
    CHECK_FALSE(is_exceptable(id, false));
    CHECK(is_exceptable(id, true));
  }
  for (const MessageId id : {MessageId("gap.scrapped"), MessageId("gap.crack-reported"), MessageId("gap.malformed"), MessageId("gap.design-not-frozen")})
    CHECK_FALSE(is_exceptable(id, true));
  // The demonstration's frame on a rig was released with such gaps; its sister that is to be ridden cannot be.
  Keyed d;
  CHECK(open_gaps(gaps(d.book, "OT-0001", today)).empty());
  const auto all = gaps(d.book, "OT-0003", today);
  const auto unqualified = std::find_if(all.begin(), all.end(), [](const Gap& g) { return g.what.id == "gap.not-qualified"; });
  REQUIRE(unqualified != all.end());
  CHECK_FALSE(unqualified->exceptable);
  CHECK(refusal([&] { except_gap(d.book, "OT-0003", unqualified->key, "r", "E-1", *d.keys.at("E-1"), noon); }) == "book.not-exceptable");
}

TEST_CASE("what comes after a release and speaks against it undoes it") {
  const auto ships = [](Keyed& d) { return d.says("E-1", "shipment", {{"order", "B"}, {"frames", {"OT-0002"}}, {"on", today}}); };
  const auto released = [](Keyed& d) { return state_of(d.book, "OT-0002", today).release.has_value(); };
  {
    Keyed d;
    CHECK(released(d));
    CHECK(ships(d).empty());
    // A crack that shows after the frame left does not make its release undone then.
    CHECK(d.says("W-A", "field-report", {{"frame", "OT-0002"}, {"on", today}, {"what", "x"}, {"cracked", true}}).empty());
    CHECK(released(d));
  }
  const auto undone = [&](const std::string& by, const std::string& kind, const Json& payload) {
    Keyed d;
    INFO(kind);
    CHECK(d.says(by, kind, payload).empty());
    CHECK_FALSE(released(d));
    d.breaks("rule.not-released", "E-1", "shipment", {{"order", "B"}, {"frames", {"OT-0002"}}, {"on", today}});
  };
  Keyed look;
  const std::string weld = look.weld_of("OT-0002", "W-A").text_of("weld");
  const Record frame = look.book.current({"frame", "OT-0002"}, "frame").at(0);
  Json ridden = frame.content;
  ridden["rig_only"] = false;
  undone("E-1", "correction", look.correction(frame, ridden));
  Json rejected = look_at("OT-0002", weld, "VT");
  rejected["result"] = "reject";
  undone("I-1", "inspection", rejected);
  undone("I-1", "nonconformity", {{"id", "N-9"}, {"frame", "OT-0002"}, {"weld", weld}, {"what", "crack"}});
  undone("A-1", "audit-finding", {{"id", "AF-9"}, {"frame", "OT-0002"}, {"what", "x"}, {"on", today}});
}

TEST_CASE("a rejection that names no flaw is no better than one that names a crack, and a finding stays the auditor's") {
  Keyed d;
  const std::string weld = d.weld_of("OT-0003", "W-A").text_of("weld");
  const auto rejected_for = [&](const char* imperfection) {
    Json seen = look_at("OT-0003", weld, "VT");
    seen["result"] = "reject";
    if (*imperfection) seen["imperfection"] = imperfection;
    CHECK(d.says("I-1", "inspection", seen).empty());
    for (const Gap& g : gaps(d.book, "OT-0003", today))
      if (g.weld == weld && (g.what.id == "gap.rejected" || g.what.id == "gap.planar-flaw")) return g.exceptable;
    return true;
  };
  CHECK(rejected_for("5012"));
  CHECK_FALSE(rejected_for("100"));
  CHECK_FALSE(rejected_for("401"));
  CHECK_FALSE(rejected_for(""));
  const std::int64_t finding = d.book.find({"audit-finding", "AF-1"}).at(0).entry.seq;
  for (const char* who : {"O", "E-1", "I-1"}) CHECK(d.says(who, "void", {{"of", finding}, {"reason", "r"}}) == "book.role");
}
