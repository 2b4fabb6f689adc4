// SPDX-License-Identifier: GPL-3.0-or-later
// Looking things up, and copies.
#include <algorithm>
#include <set>

#include "catalog/book/inside.h"
#include "catalog/book/records/names.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

namespace {

/// Entries of which each_with_named() looks up what they name in one question.
constexpr std::size_t entries_together = 1000;

void require(EntryCheck* check, const Entry& e) {
  if (!check) return;
  if (const auto fault = check->fault_of(e))
    throw Fault{Message{"book.not-intact", {number("seq", static_cast<double>(e.seq), ""), sentence_argument("why", *fault)}}};
}

}  // namespace

Record record_of(Entry e, std::int64_t replaced_by) {
  Record r;
  const Content content = content_of(e.kind, e.payload);
  r.kind = content.kind;
  r.replaces = content.replaces;
  r.content = Json::object();
  try {
    check_payload(e.kind, e.payload);
    r.content = *content.payload;
  } catch (const Fault&) {
    r.malformed = true;
  }
  r.replaced_by = replaced_by;
  r.entry = std::move(e);
  return r;
}

std::string Record::text_of(const char* key) const { return word_at(content, key); }

std::string Book::id() const { return inside_->id; }
Form Book::form() const { return inside_->store->form(); }
std::size_t Book::count_ids() const { return inside_->store->ids().size(); }
std::string Book::damage() const { return inside_->store->damage(); }
void Book::copy_to(const std::string& where) const { inside_->store->copy_to(where); }

Still Book::still() const { return Still(*inside_->store); }

void Book::require_intact(const Entry& e) const { require(inside_->check.get(), e); }

const VerifiedMemory* Book::memory() const { return inside_->memory ? &*inside_->memory : nullptr; }

Standing standing_of(const Book& book) {
  const VerifiedMemory* memory = book.memory();
  if (!memory) return Standing::unverified;
  const auto there = book.entry_at(memory->seq);
  return there && there->hash == memory->hash ? Standing::verified : Standing::older_copy;
}

// Entries of form 2 name the one before them on each of their frames; the last is as it was when the book was verified here, or
// came after that.
void Book::require_none_left_out(const std::string& frame, const std::vector<Record>& all) const {
  std::set<std::int64_t> about;
  for (const Record& r : all) {
    about.insert(r.entry.seq);
    if (r.replaced_by > 0) about.insert(r.replaced_by);
  }
  const auto left_out = [&](std::int64_t seq) {
    return Fault{Message{"book.left-out", {text("frame", frame.substr(0, 200)), number("seq", static_cast<double>(seq), "")}}};
  };
  for (const Record& r : all) {
    if (r.entry.form < 2) continue;
    const auto here = about.lower_bound(r.entry.seq);
    const std::int64_t before = here == about.begin() ? 0 : *std::prev(here);
    const Json links = read_json(r.entry.links);
    const auto link = links.is_object() ? links.find(frame) : links.end();
    if (!links.is_object() || link == links.end() || !link->is_number_integer() || link->get<std::int64_t>() != before) throw left_out(r.entry.seq);
  }
  if (standing_of(*this) != Standing::verified) return;
  const auto known = inside_->memory->last.find(frame);
  if (known != inside_->memory->last.end() && known->second < end_ && !about.contains(known->second)) throw left_out(known->second);
}

// Who carried one of these when the book was verified here still does, unless an entry since then was about that frame.
void Book::require_carriers(const std::vector<Mark>& carried, const std::vector<std::string>& now) const {
  std::set<std::string> missing;
  for (const Mark& m : carried)
    for (const std::string& frame : remembered_carriers(inside_->id, m).value_or(std::vector<std::string>()))
      if (!std::binary_search(now.begin(), now.end(), frame)) missing.insert(frame);
  if (missing.empty()) return;
  const auto last = last_entry();
  std::vector<std::int64_t> since;
  for (std::int64_t seq = inside_->memory->seq + 1; last && seq <= last->seq; ++seq) since.push_back(seq);
  for (const Record& r : records(since)) {
    const auto named = r.replaces > 0 ? record(r.replaces) : std::nullopt;
    for (const std::string& frame : frames_about(r.entry, named ? &named->entry : nullptr)) missing.erase(frame);
  }
  if (!missing.empty()) throw Fault{Message{"recall.left-out", {text("value", carried.front().value.substr(0, 200))}}};
}

Record Book::record_from(Store::FoundEntry found) const {
  Entry e = entry_of(std::move(found.entry));
  require_intact(e);
  return record_of(std::move(e), found.replaced_by);
}

std::optional<Entry> Book::last_entry() const {
  auto row = inside_->store->last();
  return row ? std::optional(entry_of(std::move(*row))) : std::nullopt;
}

std::string Book::head() const {
  const auto e = last_entry();
  return e ? std::to_string(e->seq) + ":" + e->hash : "0:";
}

void Book::for_each_entry(const std::function<bool(const Entry&)>& visit) const {
  inside_->store->each_entry([&](EntryRow row) { return visit(entry_of(std::move(row))); });
}

void Book::each_with_named(const std::function<bool(const Entry&, const Record*)>& visit) const {
  std::vector<Entry> together;
  const auto named_by = [](const Entry& e) {
    return e.kind == kind::correction || e.kind == kind::annulment ? content_of(e.kind, e.payload).replaces
                                                                   : 0;
  };
  const auto visit_together = [&] {
    std::vector<std::int64_t> asked;
    for (const Entry& e : together)
      if (const std::int64_t seq = named_by(e); seq != 0) asked.push_back(seq);
    std::map<std::int64_t, Record> named;
    for (Store::FoundEntry& f : inside_->store->entries(asked, end_)) {  // unchecked: verify() goes through all of them
      Record r = record_of(entry_of(std::move(f.entry)), f.replaced_by);
      named.emplace(r.entry.seq, std::move(r));
    }
    for (const Entry& e : together) {
      const auto found = named.find(named_by(e));
      if (!visit(e, found == named.end() ? nullptr : &found->second)) return false;
    }
    together.clear();
    return true;
  };
  bool goes_on = true;
  inside_->store->each_entry([&](EntryRow row) {
    together.push_back(entry_of(std::move(row)));
    return together.size() < entries_together || (goes_on = visit_together());
  });
  if (goes_on) visit_together();
}

std::optional<Entry> Book::entry_at(std::int64_t seq) const {
  auto found = inside_->store->entries({&seq, 1}, unbounded);
  return found.empty() ? std::nullopt : std::optional(entry_of(std::move(found.front().entry)));
}

std::optional<Record> Book::record(std::int64_t seq) const {
  auto found = inside_->store->entries({&seq, 1}, end_);
  return found.empty() ? std::nullopt : std::optional(record_from(std::move(found.front())));
}

std::vector<Record> Book::records(const std::vector<std::int64_t>& seqs) const {
  std::vector<Record> all;
  for (Store::FoundEntry& f : inside_->store->entries(seqs, end_)) all.push_back(record_from(std::move(f)));
  return all;
}

std::vector<std::vector<Record>> Book::find_all(const std::vector<Mark>& marks) const {
  std::vector<std::vector<Record>> all(marks.size());
  for (Store::FoundEntry& f : inside_->store->marked(marks, {}, end_))
    all[f.asked].push_back(record_from(std::move(f)));
  for (std::size_t i = 0; inside_->check && i < marks.size(); ++i)
    if (marks[i].name == mark::frame) require_none_left_out(marks[i].value, all[i]);
  return all;
}

std::vector<Record> Book::find(const Mark& mark) const { return std::move(find_all({mark}).front()); }

std::vector<std::vector<Record>> Book::current_all(const std::vector<Mark>& marks,
                                                   const std::vector<std::string>& kinds) const {
  std::vector<std::string> stored = kinds;
  stored.emplace_back("correction");  // of which kind, what it says tells
  std::vector<std::vector<Record>> all(marks.size());
  for (Store::FoundEntry& f : inside_->store->marked(marks, stored, end_)) {
    if (f.replaced_by > 0) continue;
    Record r = record_from(std::move(f));
    if (std::find(kinds.begin(), kinds.end(), r.kind) != kinds.end()) all[f.asked].push_back(std::move(r));
  }
  return all;
}

std::vector<Record> Book::current(const Mark& mark, const std::string& kind) const {
  return std::move(current_all({mark}, {kind}).front());
}

std::vector<std::string> Book::names_of(const std::string& value) const {
  std::vector<Mark> asked;
  for (std::string& name : mark_names()) asked.push_back({std::move(name), value});
  std::vector<std::string> names;
  for (Mark& known : inside_->store->known_marks(asked, end_)) names.push_back(std::move(known.name));
  return names;
}

std::vector<std::string> Book::values_of(const std::string& name) const {
  std::vector<std::string> all;
  for (Mark& m : inside_->store->marks({&name, 1}, end_)) all.push_back(std::move(m.value));
  return all;
}

std::vector<Mark> Book::marks() const {
  const std::vector<std::string> names = mark_names();
  const auto place = [&](const Mark& m) {
    return std::find(names.begin(), names.end(), m.name) - names.begin();
  };
  std::vector<Mark> all = inside_->store->marks(names, end_);
  std::stable_sort(all.begin(), all.end(), [&](const Mark& a, const Mark& b) { return place(a) < place(b); });
  return all;
}

std::vector<std::string> Book::frames_with(const std::vector<Mark>& carried) const {
  std::vector<std::string> now = inside_->store->frames_with(carried);
  if (inside_->check && standing_of(*this) == Standing::verified) require_carriers(carried, now);
  return now;
}

std::vector<Mark> Book::carried(const std::string& frame) const {
  if (end_ == unbounded) return inside_->store->carried(frame);
  std::set<Mark> then;  // the table tells of today alone
  for (const Record& r : find({mark::frame, frame}))
    if (r.current())
      for (Mark& m : carried_by(content_of(r.entry.kind, r.entry.payload))) then.insert(std::move(m));
  return {then.begin(), then.end()};
}

std::optional<std::string> Book::attachment(const std::string& sha256) const {
  auto found = inside_->store->files({&sha256, 1});
  return found.empty() ? std::nullopt : std::optional(std::move(found.begin()->second));
}

std::map<std::string, std::string> Book::attachments(const std::vector<std::string>& sha256) const {
  return inside_->store->files(sha256);
}

void Book::each_attachment(const std::function<void(const std::string&, const std::string&)>& visit) const {
  inside_->store->each_file(visit);
}

void Book::each_mark(const std::function<void(const Mark&, std::int64_t)>& visit) const {
  inside_->store->each_mark(visit);
}

void Book::each_carried(const std::function<void(const Mark&, const std::string&)>& visit) const {
  inside_->store->each_carried(visit);
}

void Book::each_replaced(const std::function<void(std::int64_t, std::int64_t)>& visit) const {
  inside_->store->each_replaced(visit);
}

}  // namespace seamwright::book
