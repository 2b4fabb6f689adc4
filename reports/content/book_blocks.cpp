// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/book_blocks.h"

#include <algorithm>
#include <cmath>
#include <string_view>

#include "catalog/book/records/names.h"
#include "reports/content/evidence_blocks.h"
#include "reports/content/frame_page_blocks.h"
#include "reports/text/text.h"

namespace seamwright::reports {

namespace {

using book::Record;

Message kind_word(const std::string& kind) { return {composed_id("book.kind-", kind), {}}; }

// A table of welds or a headline says this of a field.
std::string text_at(const Record& r, const char* name) {
  const auto told = r.content.find(name);
  return told == r.content.end() ? "–" : text_of(*told);
}

// Tells what became of an entry, in the words of a table.
Cell standing_cell(const Record& r) {
  if (r.malformed) return message_of("record.malformed");
  if (r.replaced_by > 0)
    return Message{"record.replaced", {number("by", static_cast<double>(r.replaced_by), "")}};
  if (r.replaces > 0) return Message{"record.replaces", {number("of", static_cast<double>(r.replaces), "")}};
  return Verbatim{""};
}

// Records of some kinds, one to a row.
void add_records(Document& d, MessageId heading, const std::vector<const Record*>& records, RecordView on) {
  if (records.empty()) return;
  d.blocks.emplace_back(Heading{2, message_of(heading)});
  Table t = table_of(
      {"column.entry", "column.time", "column.author", "column.kind", "column.says", "column.standing"});
  for (const Record* r : records)
    t.rows.push_back({Quantity{static_cast<double>(r->entry.seq), "", 9}, Verbatim{local_time(r->entry.time)},
                      Verbatim{r->entry.author}, kind_word(r->kind), line_of(*r, on), standing_cell(*r)});
  d.blocks.emplace_back(std::move(t));
}

// The parts of a frame's record stand in the order in which an auditor asks.
constexpr MessageId sections[] = {"record.frame",       "record.design",          "record.procedures",
                                  "record.people",      "record.materials",       "record.devices",
                                  "record.inspections", "record.nonconformities", "record.notes"};

std::vector<const Record*> told_in(MessageId section, const book::Trace& t) {
  std::vector<const Record*> all;
  for (const auto* part : {&t.own, &t.behind})
    for (const Record& r : *part) {
      const book::Kind* kind = book::kind_of(r.kind);
      if (kind && kind->section == section) all.push_back(&r);
    }
  std::sort(all.begin(), all.end(),
            [](const Record* a, const Record* b) { return a->entry.seq < b->entry.seq; });
  return all;
}

void add_welds(Document& d, const std::vector<Record>& own) {
  Table t = weld_table(book::kind_named(book::kind::weld), own);
  if (t.rows.empty()) return;
  d.blocks.emplace_back(Heading{2, message_of("record.welds")});
  d.blocks.emplace_back(std::move(t));
}

Message left_as(const book::FrameState& s) {
  if (s.shipment)
    return {s.release ? MessageId("record.shipped") : "record.shipped-unreleased",
            {text("day", s.shipment->text_of(book::field::on)),
             text("order", s.shipment->text_of(book::field::order)),
             text("to", s.shipment->text_of(book::field::to))}};
  if (s.release)
    return {"record.released",
            {text("day", s.release->text_of(book::field::on)), text("by", s.release->entry.author)}};
  return {"record.unreleased", {}};
}

Argument count_of(const char* name, std::size_t count) {
  return number(name, static_cast<double>(count), "");
}

// Each part of the state stands by itself below the headline.
void add_state(Document& d, const book::FrameState& s) {
  d.blocks.emplace_back(headline(s));
  const std::size_t open = book::open_gaps(s.gaps).size();
  Facts facts{
      {{message_of("headline.rating"),
        s.verdict.empty() ? Cell(message_of("headline.no-rating")) : Cell(State{s.verdict})},
       {message_of("headline.open-gaps"), Quantity{static_cast<double>(open), "", 9}},
       {message_of("headline.excepted"), Quantity{static_cast<double>(s.gaps.size() - open), "", 9}}}};
  for (const Record& crack : s.cracks)
    facts.facts.push_back(
        {message_of("headline.crack"), Message{"headline.crack-entry",
                                               {text("day", crack.text_of(book::field::on)),
                                                text("weld", text_at(crack, book::field::weld)),
                                                text("what", crack.text_of(book::field::what).substr(0, 400)),
                                                number("seq", static_cast<double>(crack.entry.seq), "")}}});
  d.blocks.emplace_back(std::move(facts));
  d.blocks.emplace_back(Paragraph{left_as(s)});
}

// This machine knows the book so far.
Message verified_until(const book::Book& book) {
  const book::VerifiedMemory* memory = book.memory();
  switch (book::standing_of(book)) {
    case book::Standing::verified:
      return {"record.verified-here", {number("seq", static_cast<double>(memory->seq), ""), text("day", memory->day)}};
    case book::Standing::older_copy:
      return {"record.older-copy", {text("day", memory->day)}};
    case book::Standing::unverified:
      break;
  }
  return message_of("record.unverified");
}

}  // namespace

Answer headline(const book::FrameState& s) {
  const std::size_t open = book::open_gaps(s.gaps).size();
  if (!s.cracks.empty())
    return {State{"cracked"},
            {"headline.cracked",
             {text("day", s.cracks.back().text_of(book::field::on)),
              text("weld", text_at(s.cracks.back(), book::field::weld)), count_of("open", open)}}};
  if (s.verdict.empty()) return {State{"not_covered"}, {"headline.unrated", {count_of("open", open)}}};
  if (s.verdict != "meets") return {State{s.verdict}, {"headline.rating-says", {count_of("open", open)}}};
  if (open > 0) return {State{"open-gaps"}, {"headline.open", {count_of("open", open)}}};
  return {State{"no-open-gaps"}, message_of("headline.clear")};
}

Answer headline(const book::Verification& v) {
  const std::vector<Argument> with{number("entries", static_cast<double>(v.entries), ""),
                                   count_of("refused", v.refused.size()), text("head", v.head)};
  if (!v.problems.empty()) return {State{"broken"}, {"book.does-not-hold", with}};
  if (!v.refused.empty()) return {State{"intact-refused"}, {"book.holds-refused", with}};
  return {State{"intact"}, {"book.holds", with}};
}

Table weld_table(const book::Kind& kind, const std::vector<Record>& records) {
  Table t;
  std::vector<const book::Field*> columns;
  for (const book::Field& f : kind.fields)
    if (!f.column.empty()) {
      columns.push_back(&f);
      t.columns.push_back(message_of(f.column));
    }
  t.columns.push_back(message_of("column.entry"));
  t.columns.push_back(message_of("column.standing"));
  for (const Record& r : records) {
    if (r.kind != book::kind::weld && r.kind != book::kind::repair) continue;
    std::vector<Cell> row;
    for (const book::Field* f : columns) {
      Cell cell = cell_of(*f, r.content);
      auto* name = f->revised ? std::get_if<Verbatim>(&cell) : nullptr;
      if (name) name->text.append(" ").append(r.text_of(book::field::revision));
      row.push_back(std::move(cell));
    }
    row.emplace_back(Quantity{static_cast<double>(r.entry.seq), "", 9});
    row.push_back(standing_cell(r));
    t.rows.push_back(std::move(row));
  }
  return t;
}

Document trace_document(const book::Book& book, const book::Trace& t, const std::string& today,
                        RecordView on) {
  Document d;
  const book::FrameState state = book::state_of(book, t.serial, today);
  d.title = {"record.title", {text("serial", t.serial)}};
  add_state(d, state);
  add_frame_page(d, t, state);
  d.blocks.emplace_back(PageBreak{});
  for (const MessageId section : sections) {
    if (section == MessageId("record.procedures")) add_welds(d, t.own);
    add_records(d, section, told_in(section, t), on);
  }
  d.foot = {{"record.head", {text("head", book.head()), text("book", book.id())}}, verified_until(book)};
  return d;
}

Document frame_page(const book::Book& book, const book::Trace& t, const std::string& today) {
  const book::FrameState state = book::state_of(book, t.serial, today);
  Document d;
  d.title = {"record.title", {text("serial", t.serial)}};
  add_state(d, state);
  add_frame_page(d, t, state);
  d.blocks.emplace_back(Paragraph{{"page.entries", {number("count", static_cast<double>(t.own.size() + t.behind.size()), ""), text("serial", t.serial)}}});
  d.foot = {{"record.head", {text("head", book.head()), text("book", book.id())}}, verified_until(book)};
  return d;
}

Document recall_document(const book::Mark& what, const std::vector<book::Carrier>& carriers) {
  Document d;
  d.title = {"recall.title",
             {sentence_argument("name", composed_id("recall.by-", what.name)), text("value", what.value)}};
  d.foot = {message_of("record.unverified")};
  d.blocks.emplace_back(
      Paragraph{{"recall.count", {number("count", static_cast<double>(carriers.size()), "")}}});
  if (carriers.empty()) return d;
  d.blocks.emplace_back(Caution{{message_of("recall.caution")}});
  Table t = table_of({"column.frame", "column.order", "column.to", "column.shipped", "column.released",
                      "column.km", "column.used", "column.used-by", "column.crack"});
  for (const book::Carrier& c : carriers) {
    const Cell none = Verbatim{"–"};
    const auto text_cell = [&](const std::string& s) { return s.empty() ? none : Cell(Verbatim{s}); };
    t.rows.push_back(
        {Verbatim{c.serial}, text_cell(c.order), text_cell(c.to), text_cell(c.shipped), text_cell(c.released),
         c.km > 0 ? Cell(Quantity{c.km, "km", 4}) : none,
         std::isnan(c.used) ? Cell(message_of("recall.unknown")) : Cell(Quantity{100 * c.used, "%", 2}),
         c.by.empty() ? none : Cell(Message{composed_id("recall.used-", c.by), {}}),
         c.cracked ? Cell(message_of("recall.cracked")) : none});
  }
  d.blocks.emplace_back(std::move(t));
  return d;
}

Document gaps_document(const book::FrameState& state) {
  Document d;
  d.title = {"gaps.title", {text("serial", state.serial)}};
  add_state(d, state);
  d.foot = {message_of("record.unverified")};
  if (state.gaps.empty()) return d;
  Table t = table_of({"column.weld", "column.missing", "column.gap-key", "column.excepted"});
  for (const book::Gap& g : state.gaps)
    t.rows.push_back(
        {Verbatim{g.weld.empty() ? "–" : g.weld}, g.what, Verbatim{g.key},
         g.excepted_by.empty()
             ? Cell(Verbatim{""})
             : Cell(Message{"gaps.excepted", {text("person", g.excepted_by), text("reason", g.reason)}})});
  d.blocks.emplace_back(std::move(t));
  return d;
}

namespace {

void add_problems(Document& d, MessageId column, const std::vector<book::Problem>& problems) {
  if (problems.empty()) return;
  Table t = table_of({"column.entry", column});
  for (const book::Problem& p : problems)
    t.rows.push_back(
        {p.seq > 0 ? Cell(Quantity{static_cast<double>(p.seq), "", 9}) : Cell(message_of("book.whole")),
         Message{p.what, p.with}});
  d.blocks.emplace_back(std::move(t));
}

}  // namespace

Document verified_document(const book::Verification& v) {
  Document d;
  d.title = message_of("book.verified-title");
  d.blocks.emplace_back(headline(v));
  d.blocks.emplace_back(
      Facts{{{message_of("book.entries"), Quantity{static_cast<double>(v.entries), "", 9}},
             {message_of("book.attachments"), Quantity{static_cast<double>(v.attachments), "", 9}},
             {message_of("book.backwards"), Quantity{static_cast<double>(v.backwards), "", 9}}}});
  add_problems(d, "column.problem", v.problems);
  add_problems(d, "column.refused", v.refused);
  for (const book::ErasedPerson& e : v.erased)
    d.blocks.emplace_back(
        Paragraph{{"book.erased", {text("person", e.person), number("by", static_cast<double>(e.by), "")}}});
  return d;
}

}  // namespace seamwright::reports
