// SPDX-License-Identifier: GPL-3.0-or-later
// The rules ask a book these questions: answers are looked up, or gathered while its entries pass by.
#include <algorithm>

#include "catalog/book/attached_files.h"
#include "catalog/book/gaps.h"
#include "catalog/book/lookup.h"
#include "catalog/book/production.h"
#include "catalog/book/records.h"
#include "catalog/book/records/names.h"
#include "catalog/book/transitions.h"
#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/design/design.h"

namespace seamwright::book {

namespace {

WeldEntry weld_entry_of(std::int64_t seq, const std::string& kind, const Entry& e, const Json& content,
                        bool current) {
  const std::string welder = word_at(content, field::welder), on = word_at(content, field::on);
  return {seq, kind, welder.empty() ? e.author : welder, on.empty() ? e.time.substr(0, 10) : on, current, word_at(content, field::weld),
          word_at(content, field::procedure)};
}

bool is_weld_entry(const std::string& kind) { return kind == kind::weld || kind == kind::repair; }

HeldMethod held_method(const Json& content) {
  const auto level = content.find(field::level);
  return {word_at(content, field::method), word_at(content, field::tested), word_at(content, field::until),
          level != content.end() && level->is_number() ? level->get<double>() : 0};
}

std::string file_in(const Json& content) {
  const auto file = content.find(field::file);
  return file == content.end() ? std::string() : word_at(*file, field::sha256);
}

// A frozen design with all procedures: it may refer to a proof in any.
std::map<std::string, std::string> files_beside(const Book& book, const std::string& design_sha256) {
  std::map<std::string, std::string> names{{"design.toml", design_sha256}};
  std::vector<Mark> procedures;
  for (std::string& id : book.values_of(mark::procedure))
    procedures.push_back({mark::procedure, std::move(id)});
  std::size_t number = 0;
  for (const std::vector<Record>& revisions : book.current_all(procedures, {kind::procedure}))
    for (const Record& r : revisions) names[procedure_name(number++)] = file_of(r);
  return names;
}

}  // namespace

const DesignSubjects* FrozenDesigns::subjects_of(const Book& book, const std::string& sha256) {
  if (const auto known = known_.find(sha256); known != known_.end()) return known->second.get();
  if (sha256.empty()) return nullptr;
  const AttachedFiles files(book, files_beside(book, sha256));
  if (!files.has("design.toml")) return nullptr;
  std::unique_ptr<DesignSubjects> drawn;
  try {
    const design::Design design = files::read_recorded_design({files, "design.toml"}, published::catalog());
    drawn = std::make_unique<DesignSubjects>();
    for (const joints::Weld& w : design.welds) {
      drawn->welds.insert(w.id);
      if (!w.root_proof.empty()) drawn->fused.insert(w.procedure);
    }
    for (std::size_t i = 0; i < design::subject_count(design); ++i)
      drawn->subjects.insert(design::subject_of(design, i).id);
  } catch (const Fault&) {  // `gaps` tells that it cannot be read
    drawn.reset();
  }
  return known_.emplace(sha256, std::move(drawn)).first->second.get();
}

std::string BookFacts::role_of(const std::string& person) const {
  const auto who = book_.person(person);
  return who ? who->role : std::string();
}

std::vector<WeldEntry> BookFacts::weld_entries(const std::string& frame, const std::string& weld) const {
  std::vector<WeldEntry> all;
  for (const Record& r : book_.find({mark::frame, frame}))
    if (is_weld_entry(r.kind) && (weld.empty() || r.text_of(field::weld) == weld))
      all.push_back(weld_entry_of(r.entry.seq, r.kind, r.entry, r.content, r.current()));
  return all;
}

bool is_shop_of_one(Lookup& records) {
  const Mark one{mark::shop, "one"}, several{mark::shop, "several"};
  records.ask({one, several});
  const auto last = [&](const Mark& mark) {
    const auto& all = records.current(mark, kind::shop);
    return all.empty() ? 0 : all.back().entry.seq;
  };
  return last(one) > last(several);
}

bool is_shop_of_one(const Book& book) {
  Lookup records(book);
  return is_shop_of_one(records);
}

std::vector<HeldMethod> BookFacts::methods_of(const std::string& person) const {
  std::vector<HeldMethod> all;
  for (const Record& r : book_.current({mark::person, person}, kind::inspector_certificate))
    if (!r.malformed) all.push_back(held_method(r.content));
  return all;
}

std::string BookFacts::auditor_of(const std::string& finding) const {
  const auto all = book_.current({mark::audit_finding, finding}, kind::audit_finding);
  return all.empty() ? std::string() : all.front().entry.author;
}

bool BookFacts::is_shop_of_one() const {
  return book::is_shop_of_one(book_);
}

bool asks_for_release(const Content& c) {
  if (c.kind == kind::inspection) return word_at(*c.payload, field::result) != "accept";
  if (c.kind == kind::field_report) return c.payload->value(field::cracked, false);
  return c.kind == kind::frame || is_weld_entry(c.kind) || c.kind == kind::nonconformity || c.kind == kind::audit_finding;
}

bool BookFacts::is_released(const std::string& serial) const {
  std::int64_t released = 0, asking = 0;
  std::vector<WeldEntry> made;
  for (const Record& r : book_.find({mark::frame, serial})) {
    if (!r.current()) continue;
    if (r.kind == kind::release) released = r.entry.seq;
    if (r.malformed || asks_for_release({r.kind, &r.content, 0})) asking = r.entry.seq;
    if (is_weld_entry(r.kind)) made.push_back(weld_entry_of(r.entry.seq, r.kind, r.entry, r.content, true));
  }
  return released > asking && released > doubting_test(made, tests_of(book_, made), unbounded);
}

bool BookFacts::has_frame(const std::string& serial) const {
  return !book_.current({mark::frame, serial}, kind::frame).empty();
}

const DesignSubjects* BookFacts::subjects_of(const std::string& serial) const {
  const auto frames = book_.current({mark::frame, serial}, kind::frame);
  const auto design = frames.empty() ? std::nullopt : design_of(book_, frames.back());
  return design ? frozen_designs_.subjects_of(book_, file_of(*design)) : nullptr;
}

std::optional<Message> BookFacts::release_fault(const Json& release, const Entry& entry) const {
  return book::release_fault(book_, release, entry.time);
}

PassingFacts::PassingFacts(const Book& book) : book_(book), frozen_(frozen_files()) {}

void PassingFacts::pass(const Entry& e, bool in_shape) {
  const Content c = content_of(e.kind, e.payload);
  if (!c.payload->is_object()) return;
  const auto text_of = [&](const char* key) { return word_at(*c.payload, key); };
  if (e.kind == kind::person || e.kind == kind::role) roles_[text_of(field::id)] = text_of(field::role);
  if (c.replaces > 0 && c.replaces < e.seq && named_) drop(*named_);
  if (!in_shape) return;
  take_in(e.seq, c);
  if (c.kind == kind::audit_finding) auditors_.emplace(text_of(field::id), e.author);
  if (is_weld_entry(c.kind))
    weld_entries_[text_of(field::frame)][text_of(field::weld)].push_back(
        weld_entry_of(e.seq, c.kind, e, *c.payload, true));
}

void PassingFacts::take_in(std::int64_t seq, const Content& c) {
  const auto text_of = [&](const char* key) { return word_at(*c.payload, key); };
  if (c.kind == kind::frame)
    frames_[text_of(field::serial)].push_back(
        {seq, text_of(field::design), text_of(field::revision), ""});
  if (c.kind == kind::design)
    designs_[text_of(field::name)].push_back({seq, text_of(field::name), text_of(field::revision), file_in(*c.payload)});
  if (c.kind == kind::release) releases_[text_of(field::frame)].insert(seq);
  if (asks_for_release(c)) asking_[text_of(c.kind == kind::frame ? field::serial : field::frame)].insert(seq);
  if (c.kind == kind::inspector_certificate) held_[text_of(field::person)].push_back({seq, held_method(*c.payload)});
  if (c.kind == kind::shop) shop_of_one_[seq] = text_of(field::people) == "one";
  if (c.kind == kind::production_test)
    if (const auto open = is_open_piece(*c.payload)) tests_[text_of(field::procedure)][seq] = *open;
}

void PassingFacts::drop(const Record& old) {
  const std::int64_t seq = old.entry.seq;
  const Content was = content_of(old.entry.kind, old.entry.payload);
  const auto text_of = [&](const char* key) { return word_at(*was.payload, key); };
  const auto drop = [&](std::vector<NamedRevision>& all) {
    std::erase_if(all, [&](const NamedRevision& n) { return n.seq == seq; });
  };
  if (was.kind == kind::frame) drop(frames_[text_of(field::serial)]);
  if (was.kind == kind::design) drop(designs_[text_of(field::name)]);
  if (was.kind == kind::release) releases_[text_of(field::frame)].erase(seq);
  asking_[text_of(was.kind == kind::frame ? field::serial : field::frame)].erase(seq);
  if (was.kind == kind::inspector_certificate)
    std::erase_if(held_[text_of(field::person)], [&](const HeldEntry& h) { return h.seq == seq; });
  shop_of_one_.erase(seq);
  if (was.kind == kind::production_test) tests_[text_of(field::procedure)].erase(seq);
  if (was.kind == kind::audit_finding) auditors_.erase(text_of(field::id));
  if (is_weld_entry(was.kind))
    for (WeldEntry& m : weld_entries_[text_of(field::frame)][text_of(field::weld)])
      if (m.seq == seq) m.current = false;
}

std::string PassingFacts::role_of(const std::string& person) const {
  const auto found = roles_.find(person);
  return found == roles_.end() ? std::string() : found->second;
}

std::optional<Record> PassingFacts::entry(std::int64_t seq) const {
  return named_ && named_->entry.seq == seq ? std::optional(*named_) : std::nullopt;
}

std::vector<WeldEntry> PassingFacts::weld_entries(const std::string& frame, const std::string& weld) const {
  const auto of_frame = weld_entries_.find(frame);
  if (of_frame == weld_entries_.end()) return {};
  if (weld.empty()) {
    std::vector<WeldEntry> all;
    for (const auto& [id, made] : of_frame->second) all.insert(all.end(), made.begin(), made.end());
    return all;
  }
  const auto found = of_frame->second.find(weld);
  return found == of_frame->second.end() ? std::vector<WeldEntry>() : found->second;
}

std::vector<HeldMethod> PassingFacts::methods_of(const std::string& person) const {
  std::vector<HeldMethod> all;
  if (const auto found = held_.find(person); found != held_.end())
    for (const HeldEntry& h : found->second) all.push_back(h.held);
  return all;
}

std::string PassingFacts::auditor_of(const std::string& finding) const {
  const auto found = auditors_.find(finding);
  return found == auditors_.end() ? std::string() : found->second;
}

bool PassingFacts::is_shop_of_one() const { return !shop_of_one_.empty() && shop_of_one_.rbegin()->second; }

bool PassingFacts::is_released(const std::string& serial) const {
  const auto found = releases_.find(serial);
  if (found == releases_.end() || found->second.empty()) return false;
  const auto asking = asking_.find(serial);
  const std::int64_t released = *found->second.rbegin();
  if (asking != asking_.end() && !asking->second.empty() && *asking->second.rbegin() > released) return false;
  return doubting_test(weld_entries(serial, ""), tests_, unbounded) < released;
}

bool PassingFacts::has_frame(const std::string& serial) const {
  const auto found = frames_.find(serial);
  return found != frames_.end() && !found->second.empty();
}

const DesignSubjects* PassingFacts::subjects_of(const std::string& serial) const {
  if (!has_frame(serial)) return nullptr;
  const NamedRevision& frame = frames_.at(serial).back();
  const auto designs = designs_.find(frame.name);
  if (designs == designs_.end()) return nullptr;
  for (const NamedRevision& d : designs->second)
    if (d.revision == frame.revision) return frozen_designs_.subjects_of(book_, d.sha256);
  return nullptr;
}

std::optional<Message> PassingFacts::release_fault(const Json& release, const Entry& entry) const {
  const Book then = book_.before(entry.seq);
  std::optional<Message> fault = book::release_fault(then, release, entry.time, frozen_.get());
  // Books that are older than a demand are not held to it: what is released today is.
  return fault ? book::release_fault(then, release, entry.time, frozen_.get(), Demands::first) : fault;
}

}  // namespace seamwright::book
