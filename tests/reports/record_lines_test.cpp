// SPDX-License-Identifier: GPL-3.0-or-later
// A record as it is printed and as it is shown to who signs it: every field with its label and unit, in the
// reader's language; one more row of the table is in line, table, sheet and what is signed.
#include "reports/content/record_lines.h"

#include <catch2/catch.hpp>

#include "reports/content/book_blocks.h"
#include "reports/render/cells.h"
#include "tests/catalog/book/one_more_field.h"

using namespace seamwright;
using reports::Language;
using reports::language_named;

namespace {

const std::string no_break = "\u00a0";  // before a unit

std::string told(const reports::Facts& facts, Language in) {
  std::string out;
  for (const auto& [label, value] : facts.facts)
    out.append(reports::sentence(label, in)).append(": ").append(reports::plain_text(value, in)).append("\n");
  return out;
}

book::NewEntry a_weld() {
  book::Weld weld;
  weld.frame = "F1";
  weld.weld = "W41";
  weld.procedure = "TIG";
  weld.revision = "A";
  weld.lots = {"L1", "L2"};
  weld.amperes = 58.5;
  return book::weld_record(weld);
}

book::Record recorded(const book::NewEntry& entry) {
  book::Record r;
  r.entry.seq = 7;
  r.kind = r.entry.kind = entry.kind;
  r.content = r.entry.payload = entry.payload;
  return r;
}

}  // namespace

TEST_CASE("who signs sees every field with its label in their language") {
  CHECK(told(reports::lines_of(a_weld()), language_named("en")) ==
        "kind: weld\nframe: F1\nweld: W41\nWPS: TIG\nrevision: A\nlots: L1 L2\ncurrent: 58.5" + no_break +
            "A\n");
  const std::string german = told(reports::lines_of(a_weld()), language_named("de"));
  CHECK(german.find("Naht: W41\n") != std::string::npos);
  CHECK(german.find("Stromstärke: 58,5" + no_break + "A\n") != std::string::npos);
  CHECK(told(reports::lines_of(book::NewEntry{"lot", {{"id", "L"}}, book::Attachment{"cert.txt", "x"}}),
             language_named("en")) == "kind: tube lot\nid: L\nfile: cert.txt\n");
  const book::NewEntry correction{
      "correction", {{"of", 5}, {"kind", "weld"}, {"reason", "typed wrong"}, {"payload", a_weld().payload}}};
  const std::string corrected = told(reports::lines_of(correction), language_named("en"));
  CHECK(corrected.find("entry: 5\n") != std::string::npos);
  CHECK(corrected.find("reason: typed wrong\n") != std::string::npos);
  CHECK(corrected.find("current: 58.5") != std::string::npos);
  for (const char* text : {"[[1]]", "7", "\"x\""})
    CHECK(told(reports::lines_of(book::NewEntry{"weld", book::read_json(text)}), language_named("en")) ==
          "kind: does not have the form of its kind\n");
  CHECK(reports::lines_of(book::NewEntry{"welds", {{"id", 1}}}).facts.size() == 1);
}

TEST_CASE("no field of a record is kept from who signs it") {
  for (const book::Kind& kind : book::kinds()) {
    book::Json payload = book::Json::object();
    for (const book::Field& f : kind.fields) payload[f.name] = "told";
    INFO(kind.name);
    CHECK(reports::lines_of(kind, payload).facts.size() == kind.fields.size() + 1);
    for (const Language in : {language_named("en"), language_named("de")}) {
      INFO(told(reports::lines_of(kind, payload), in));
      CHECK(told(reports::lines_of(kind, payload), in).find('[') == std::string::npos);  // a label for each
    }
  }
}

TEST_CASE("a record in one line leaves out what its page says already") {
  const book::Record r = recorded(a_weld());
  CHECK(reports::plain_text(reports::line_of(r), language_named("en")) ==
        "weld W41, WPS TIG, revision A, lots L1 L2, current 58.5" + no_break + "A");
  book::Record malformed = r;
  malformed.content = book::Json();
  CHECK(reports::line_of(malformed).all.empty());
  const auto yes =
      reports::line_of(book::kind_named("field-report"), {{"cracked", true}}, reports::RecordView::trace);
  CHECK(reports::plain_text(yes, language_named("de")) == "gerissen ja");
}

TEST_CASE("one more row of the table is in line, sheet, table and what is signed") {
  const book::Kind& longer = book::weld_with_one_more();
  book::NewEntry entry = a_weld();
  entry.payload[book::one_more.name] = 12.5;
  const std::string label = reports::sentence({book::one_more.label, {}}, language_named("en"));
  const std::string value = "12.5" + no_break + "deg";
  for (const auto on : {reports::RecordView::trace, reports::RecordView::sheet})
    CHECK(reports::plain_text(reports::line_of(longer, entry.payload, on), language_named("en"))
              .ends_with(", " + label + " " + value));
  CHECK(told(reports::lines_of(longer, entry.payload), language_named("en"))
            .ends_with(label + ": " + value + "\n"));
  const auto before = reports::weld_table(book::kind_named(book::kind::weld), {recorded(entry)});
  const auto after = reports::weld_table(longer, {recorded(entry), recorded(a_weld())});
  REQUIRE(after.columns.size() == before.columns.size() + 1);
  REQUIRE(after.rows.size() == 2);
  const std::size_t place = after.columns.size() - 3;  // before entry and standing
  CHECK(after.columns[place].id == book::one_more.column);
  CHECK(reports::plain_text(after.rows[0][place], language_named("en")) == value);
  CHECK(reports::plain_text(after.rows[1][place], language_named("en")) == "–");
  CHECK(reports::plain_text(after.rows[0][1], language_named("en")) == "TIG A");
}

TEST_CASE("a field can be kept from the trace or from the sheet alone") {
  book::Field hidden = book::one_more;
  hidden.trace = false;
  const book::Kind kind{"weld", "book.kind-weld", "", "w", {&hidden, 1}};
  const book::Json content{{hidden.name, 1}};
  CHECK(reports::line_of(kind, content, reports::RecordView::trace).all.empty());
  CHECK(reports::line_of(kind, content, reports::RecordView::sheet).all.size() == 1);
  std::swap(hidden.trace, hidden.sheet);
  CHECK(reports::line_of(kind, content, reports::RecordView::trace).all.size() == 1);
  CHECK(reports::line_of(kind, content, reports::RecordView::sheet).all.empty());
}
