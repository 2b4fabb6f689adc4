// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/production.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <tuple>

#include "catalog/book/gaps_inside.h"
#include "catalog/book/records/names.h"
#include "catalog/book/transitions.h"
#include "engine/qualification/production_interval.h"

namespace seamwright::book {

namespace {

std::optional<qualification::Date> day_in(const Record& r, const char* key) { return qualification::read_date(r.text_of(key)); }

// An entry's own first day, whatever was corrected since.
std::optional<qualification::Date> first_signed(const Lookup& records, const Record& of) {
  const Record* r = &of;
  while (r->replaces > 0) {
    const Record* before = records.record(r->replaces);
    if (!before || before->entry.seq >= r->entry.seq) break;
    r = before;
  }
  return qualification::read_date(r->entry.time.substr(0, 10));
}

// Sections that were cut; nonsense in place of a number is none.
double sections(const Json& content, const char* key) {
  const auto found = content.find(key);
  return found != content.end() && found->is_number() ? std::max(0.0, found->get<double>()) : 0;
}

}  // namespace

std::optional<bool> is_open_piece(const Json& content) {
  const double fused = sections(content, field::fused_sections), open = sections(content, field::open_sections);
  return fused + open > 0 ? std::optional(open > 0) : std::nullopt;
}

std::vector<ProductionPiece> production_pieces(Lookup& records, const std::string& procedure) {
  std::vector<ProductionPiece> all;
  for (const Record& r : records.current({mark::procedure, procedure}, kind::production_test)) {
    const auto open = is_open_piece(r.content);
    if (!r.malformed && !open) continue;
    const auto said = day_in(r, field::on), signed_first = first_signed(records, r);
    if (!said && !signed_first) continue;
    const qualification::Date on = said && signed_first ? std::min(*said, *signed_first) : said.value_or(signed_first.value_or(qualification::Date{}));
    all.push_back({r.entry.seq, r.malformed || *open, on, std::floor(sections(r.content, field::fused_sections))});
  }
  return all;
}

std::optional<LastGood> last_good(Lookup& records, const std::string& procedure, const std::string& record_id,
                                  const std::optional<qualification::Date>& record_day, std::int64_t before) {
  std::optional<LastGood> last;
  for (const ProductionPiece& p : production_pieces(records, procedure))
    if (!p.open && p.seq < before) last = LastGood{p.seq, p.on, false};
  if (last) return last;
  // The test of the record counts from the first entry that brought it, whoever enters it once more.
  std::optional<qualification::Date> day = record_day;
  std::int64_t first = 0, any = 0;
  for (const Record& r : records.find({mark::procedure, procedure})) {
    if (r.entry.seq >= before) break;
    if (r.kind == kind::procedure && any == 0) any = r.entry.seq;
    if (r.kind != kind::qualification || record_id.empty() || r.text_of(field::id) != record_id) continue;
    if (first == 0) first = r.entry.seq;
    const auto said = r.current() ? day_in(r, field::on) : std::nullopt;
    if (said) day = day ? std::min(*day, *said) : *said;
  }
  if (!day || (first == 0 && any == 0)) return std::nullopt;
  return LastGood{first > 0 ? first : any, *day, true};
}

namespace {

// The whole book is asked once for all frames of a procedure, also where it is judged as it stood before an entry: what came later does
// not matter to what counts between two earlier ones.
const std::vector<FrameSpan>& spans_of(const Book& book, FrozenFiles& frozen, const std::string& procedure) {
  const auto [known, fresh] = frozen.spans.try_emplace(procedure);
  if (!fresh) return known->second;
  const Book whole = book.before(unbounded);
  const std::vector<std::string> serials = whole.frames_with({{mark::procedure, procedure}});
  std::vector<Mark> marks;
  for (const std::string& serial : serials) marks.push_back({mark::frame, serial});
  const auto of_frames = whole.current_all(marks, {kind::frame, kind::release});
  for (std::size_t i = 0; i < serials.size(); ++i) {
    FrameSpan span{serials[i], 0, unbounded};
    for (const Record& r : of_frames[i]) {
      if (r.kind == kind::frame) span.begun = r.replaces > 0 ? std::min(r.replaces, r.entry.seq) : r.entry.seq;
      if (r.kind == kind::release) span.done = r.entry.seq;
    }
    known->second.push_back(std::move(span));
  }
  return known->second;
}

}  // namespace

std::vector<std::int64_t> frames_since(const Book& book, FrozenFiles& frozen, const std::string& procedure, std::int64_t after,
                                       const std::string& except) {
  std::vector<std::int64_t> counted;
  std::vector<Mark> asked;
  for (const FrameSpan& s : spans_of(book, frozen, procedure)) {
    if (s.serial == except || s.done < after) continue;
    if (s.begun > after && s.done < unbounded)
      counted.push_back(s.begun);
    else  // begun before, or not finished: its welds say when
      asked.push_back({mark::frame, s.serial});
  }
  for (const std::vector<Record>& of_one : book.current_all(asked, {kind::weld, kind::repair})) {
    std::int64_t first = unbounded;
    for (const Record& r : of_one) {
      const std::int64_t seq = r.replaces > after ? std::min(r.replaces, r.entry.seq) : r.entry.seq;
      if (r.text_of(field::procedure) == procedure && seq > after) first = std::min(first, seq);
    }
    if (first < unbounded) counted.push_back(first);
  }
  std::sort(counted.begin(), counted.end());
  return counted;
}

std::int64_t doubting_test(const std::vector<WeldEntry>& welds, const OpenTests& tests, std::int64_t before) {
  std::map<std::string, const WeldEntry*> made;  // each weld as it is now
  for (const WeldEntry& w : welds) {
    const WeldEntry*& last = made[w.weld];
    if (w.current && (!last || w.seq > last->seq)) last = &w;
  }
  std::int64_t newest = 0;
  for (const auto& [id, w] : made) {
    const auto of_procedure = w ? tests.find(w->procedure) : tests.end();
    if (of_procedure == tests.end()) continue;
    const auto next = of_procedure->second.upper_bound(w->seq);
    if (next != of_procedure->second.end() && next->second && next->first < before) newest = std::max(newest, next->first);
  }
  return newest;
}

OpenTests tests_of(const Book& book, const std::vector<WeldEntry>& welds) {
  std::set<std::string> procedures;
  for (const WeldEntry& w : welds)
    if (!w.procedure.empty()) procedures.insert(w.procedure);
  std::vector<Mark> asked;
  for (const std::string& p : procedures) asked.push_back({mark::procedure, p});
  OpenTests tests;
  for (const std::vector<Record>& of_one : book.current_all(asked, {kind::production_test}))
    for (const Record& r : of_one)
      if (const auto open = is_open_piece(r.content)) tests[r.text_of(field::procedure)][r.entry.seq] = *open;
  return tests;
}

std::vector<std::string> frames_in_doubt(const Book& book, const std::string& procedure) {
  const OpenTests all = tests_of(book, {{0, "", "", "", true, "", procedure}});
  const auto tests = all.find(procedure);
  if (tests == all.end()) return {};
  const std::vector<std::string> serials = book.frames_with({{mark::procedure, procedure}});
  std::vector<Mark> marks;
  for (const std::string& serial : serials) marks.push_back({mark::frame, serial});
  const auto of_frames = book.current_all(marks, {kind::weld, kind::repair});
  std::vector<std::string> doubted;
  for (std::size_t i = 0; i < serials.size(); ++i) {
    std::map<std::string, const Record*> made;
    for (const Record& r : of_frames[i]) made[r.text_of(field::weld)] = &r;  // by seq: the last stays
    const bool doubt = std::any_of(made.begin(), made.end(), [&](const auto& w) {
      if (w.second->text_of(field::procedure) != procedure) return false;
      const auto next = tests->second.upper_bound(w.second->entry.seq);
      return (next != tests->second.end() && next->second) || (next != tests->second.begin() && std::prev(next)->second);
    });
    if (doubt) doubted.push_back(serials[i]);
  }
  return doubted;
}

namespace {

// A procedure's file as last frozen; nothing where it cannot be read.
std::optional<files::ProcedureFile> frozen_procedure(const Book& book, Lookup& records, const std::string& procedure, qualification::Date today) {
  const auto& all = records.current({mark::procedure, procedure}, kind::procedure);
  if (all.empty()) return std::nullopt;
  try {
    const std::string name = procedure_name(0);
    const AttachedFiles files(book, {{name, file_of(all.back())}});
    return files::read_procedure({files, name}, today);
  } catch (const Fault&) {
    return std::nullopt;
  }
}

// Procedures of welds whose rating counts on a fused root, over all frozen designs.
std::set<std::string> procedures_counted_on(const Book& book) {
  std::vector<Mark> marks;
  for (std::string& name : book.values_of(mark::design)) marks.push_back({mark::design, std::move(name)});
  FrozenDesigns frozen;
  std::set<std::string> all;
  for (const std::vector<Record>& of_one : book.current_all(marks, {kind::design}))
    for (const Record& r : of_one)
      if (const DesignSubjects* drawn = frozen.subjects_of(book, file_of(r))) all.insert(drawn->fused.begin(), drawn->fused.end());
  return all;
}

ProductionDue due_of(const Book& book, Lookup& records, FrozenFiles& frozen, const std::string& procedure, qualification::Date today) {
  using qualification::production_interval;
  ProductionDue due;
  due.procedure = procedure;
  const auto file = frozen_procedure(book, records, procedure, today);
  due.last = last_good(records, procedure, file ? file->sheet.record : "", file && file->record ? file->record->date : std::nullopt, unbounded);
  const auto pieces = production_pieces(records, procedure);
  due.open = !pieces.empty() && pieces.back().open;
  if (due.last) {
    due.by = qualification::add_months(due.last->on, production_interval.months);
    due.frames = static_cast<int>(frames_since(book, frozen, procedure, due.last->seq, "").size());
    due.frames_left = std::max(0, production_interval.frames - due.frames);
  }
  due.overdue = !due.last || *due.by < today || due.frames >= production_interval.frames || due.open;
  return due;
}

}  // namespace

std::vector<ProductionDue> production_due(const Book& book, qualification::Date today) {
  Lookup records(book);
  std::vector<Mark> marks;
  for (std::string& id : book.values_of(mark::procedure)) marks.push_back({mark::procedure, std::move(id)});
  records.ask(marks);
  const std::set<std::string> counted = procedures_counted_on(book);
  FrozenFiles frozen;
  std::vector<ProductionDue> all;
  for (const Mark& m : marks) {
    if (records.current(m, kind::procedure).empty()) continue;  // named by a test alone: nobody can weld by it
    all.push_back(due_of(book, records, frozen, m.value, today));
    all.back().counts_on_fusion = counted.contains(m.value);
  }
  std::stable_sort(all.begin(), all.end(), [](const ProductionDue& a, const ProductionDue& b) {
    const auto place = [](const ProductionDue& d) { return std::tuple(!d.counts_on_fusion, !d.overdue, d.by.value_or(qualification::Date{})); };
    return place(a) < place(b);
  });
  return all;
}

namespace {

// Two tests of one day by one welder without pictures of their own may be one piece entered twice: the fewer sections count.
CountedSections counted_sections(const std::vector<Record>& tests, const std::string& procedure) {
  CountedSections sum{procedure, 0, 0};
  std::map<std::tuple<std::string, std::string, std::string>, int> pieces;
  for (const Record& r : tests) {
    if (r.malformed) ++sum.open;  // what it says is told by nobody
    sum.open += static_cast<int>(std::ceil(sections(r.content, field::open_sections)));
    const int fused = static_cast<int>(std::floor(sections(r.content, field::fused_sections)));
    if (fused == 0) continue;
    const auto [known, fresh] = pieces.try_emplace({r.text_of(field::on), r.text_of(field::welder), file_of(r)}, fused);
    if (!fresh) known->second = std::min(known->second, fused);
  }
  for (const auto& [piece, fused] : pieces) sum.fused += fused;
  return sum;
}

void count_sections(design::Design& design, joints::Weld& weld, const CountedSections& sections) {
  if (!weld.root_proven && !weld.fusion_proven) return;
  if (sections.open == 0) {
    weld.root_macros += sections.fused;
    design.assumptions.push_back({"assumption.production-sections",
                                  {text("weld", weld.id), text("procedure", sections.procedure), number("count", sections.fused, "")}});
    return;
  }
  weld.root_proven = weld.fusion_proven = false;
  weld.root_macros = 0;
  weld.root_doubt = {"macro.production-open", {text("procedure", sections.procedure), number("count", sections.open, "")}};
  design.assumptions.push_back({"assumption.root-not-proven", {text("weld", weld.id), text("proof", weld.root_proof)}});
}

}  // namespace

std::vector<CountedSections> count_production_tests(const Book& book, design::Design& design) {
  std::set<std::string> procedures;
  for (const joints::Weld& w : design.welds)
    if (!w.procedure.empty()) procedures.insert(w.procedure);
  std::vector<Mark> marks;
  for (const std::string& p : procedures) marks.push_back({mark::procedure, p});
  const auto tests = book.current_all(marks, {kind::production_test});
  std::vector<CountedSections> all;
  for (std::size_t i = 0; i < marks.size(); ++i) {
    const CountedSections counted = counted_sections(tests[i], marks[i].value);
    if (counted.fused == 0 && counted.open == 0) continue;
    for (joints::Weld& w : design.welds)
      if (w.procedure == counted.procedure) count_sections(design, w, counted);
    all.push_back(counted);
  }
  return all;
}

}  // namespace seamwright::book
