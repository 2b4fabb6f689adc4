// SPDX-License-Identifier: GPL-3.0-or-later
// A second store, as the recipe "add a store" asks: plain maps in memory. It counts what it is asked.
#pragma once

#include <algorithm>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <utility>

#include "catalog/book/store/store.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

struct MemoryTables {
  std::vector<std::string> ids;
  std::map<std::int64_t, EntryRow> entries;
  std::map<std::string, Person> people;
  std::set<std::pair<Mark, std::int64_t>> marks;
  std::set<std::pair<Mark, std::string>> carried;
  std::map<std::int64_t, std::int64_t> replaced;
  std::map<std::string, std::string> files, sealed;
  std::map<std::string, std::pair<std::string, std::string>> details;  // salt, details
  std::map<std::int64_t, DraftRow> drafts;
};

/// This lives on when a store is closed.
struct MemoryShelf {
  MemoryTables tables;
  std::map<std::string, MemoryTables> copies;
  int questions = 0;
};

class MemoryStore : public Store {
 public:
  explicit MemoryStore(std::shared_ptr<MemoryShelf> shelf) : shelf_(std::move(shelf)) {}

  Form form() const override { return {3, false, false, true, {}}; }
  std::vector<std::string> ids() const override { return asked().ids; }
  std::string damage() const override { return ""; }
  void copy_to(const std::string& where) const override {
    if (!shelf_->copies.emplace(where, shelf_->tables).second)
      throw Fault{Message{"book.exists", {text("file", where)}}};
  }

  void begin() override { before_ = shelf_->tables; }
  void commit() override { before_.reset(); }
  void roll_back() noexcept override { shelf_->tables = std::move(*before_); }
  void set_id(const std::string& id) override { tables().ids.push_back(id); }
  bool bring_up_to_date() override { return false; }

  void add(const EntryRow& e) override {
    if (!tables().entries.emplace(e.seq, e).second) throw Fault{Message{"book.sql", {text("why", "seq")}}};
  }
  std::optional<EntryRow> last() const override {
    const auto& all = asked().entries;
    return all.empty() ? std::nullopt : std::optional(all.rbegin()->second);
  }
  void each_entry(const std::function<bool(EntryRow)>& visit) const override {
    for (const auto& [seq, e] : asked().entries)
      if (!visit(e)) return;
  }
  std::vector<FoundEntry> entries(std::span<const std::int64_t> seqs, std::int64_t before) const override {
    const MemoryTables& t = asked();
    std::vector<FoundEntry> all;
    for (std::size_t i = 0; i < seqs.size(); ++i)
      if (const auto e = t.entries.find(seqs[i]); e != t.entries.end() && e->first < before)
        all.push_back({i, e->second, replaced_by(e->first, before)});
    return all;
  }
  std::vector<FoundEntry> marked(std::span<const Mark> marks, std::span<const std::string> kinds,
                                 std::int64_t before) const override {
    const MemoryTables& t = asked();
    std::vector<FoundEntry> all;
    for (std::size_t i = 0; i < marks.size(); ++i)
      for (auto m = t.marks.lower_bound({marks[i], INT64_MIN}); m != t.marks.end() && m->first == marks[i];
           ++m) {
        const EntryRow& e = t.entries.at(m->second);
        if (e.seq < before && (kinds.empty() || std::find(kinds.begin(), kinds.end(), e.kind) != kinds.end()))
          all.push_back({i, e, replaced_by(e.seq, before)});
      }
    return all;
  }

  std::int64_t last_about(const Mark& mark, std::int64_t before) const override {
    const MemoryTables& t = asked();
    std::int64_t last = 0;
    for (auto m = t.marks.lower_bound({mark, INT64_MIN}); m != t.marks.end() && m->first == mark; ++m)
      if (m->second < before) last = std::max({last, m->second, replaced_by(m->second, before)});
    return last;
  }

  std::optional<Person> person(const std::string& id) const override { return value_of(asked().people, id); }
  std::vector<Person> people() const override {
    std::vector<Person> all;
    for (const auto& [id, person] : asked().people) all.push_back(person);
    return all;
  }
  void put_person(const Person& p) override { tables().people[p.id] = p; }
  void mark(std::span<const Mark> marks, std::int64_t seq) override {
    for (const Mark& m : marks) tables().marks.insert({m, seq});
  }
  void carry(std::span<const Mark> carried, const std::string& frame) override {
    for (const Mark& m : carried) tables().carried.insert({m, frame});
  }
  void drop_carried(const std::string& frame) override {
    std::erase_if(tables().carried, [&](const auto& row) { return row.second == frame; });
  }
  void replace(std::int64_t seq, std::int64_t by) override { tables().replaced.emplace(seq, by); }
  void clear_derived() override {
    tables().people.clear();
    tables().marks.clear();
    tables().carried.clear();
    tables().replaced.clear();
  }
  std::vector<Mark> marks(std::span<const std::string> names, std::int64_t before) const override {
    std::set<Mark> all;
    for (const auto& [m, seq] : asked().marks)
      if (seq < before && std::find(names.begin(), names.end(), m.name) != names.end()) all.insert(m);
    return {all.begin(), all.end()};
  }
  std::vector<Mark> known_marks(std::span<const Mark> marks, std::int64_t before) const override {
    const MemoryTables& t = asked();
    std::vector<Mark> all;
    for (const Mark& m : marks)
      if (const auto first = t.marks.lower_bound({m, INT64_MIN});
          first != t.marks.end() && first->first == m && first->second < before)
        all.push_back(m);
    return all;
  }
  std::vector<std::string> frames_with(std::span<const Mark> carried) const override {
    std::set<std::string> all;
    for (const auto& [m, frame] : asked().carried)
      if (std::find(carried.begin(), carried.end(), m) != carried.end()) all.insert(frame);
    return {all.begin(), all.end()};
  }
  std::vector<Mark> carried(const std::string& of) const override {
    std::vector<Mark> all;
    for (const auto& [m, frame] : asked().carried)
      if (frame == of) all.push_back(m);
    return all;
  }
  void each_mark(const std::function<void(const Mark&, std::int64_t)>& visit) const override {
    for (const auto& [m, seq] : asked().marks) visit(m, seq);
  }
  void each_carried(const std::function<void(const Mark&, const std::string&)>& visit) const override {
    for (const auto& [m, frame] : asked().carried) visit(m, frame);
  }
  void each_replaced(const std::function<void(std::int64_t, std::int64_t)>& visit) const override {
    for (const auto& [seq, by] : asked().replaced) visit(seq, by);
  }

  void keep_file(const std::string& sha256, const std::string& bytes) override {
    tables().files.emplace(sha256, bytes);
  }
  std::map<std::string, std::string> files(std::span<const std::string> sha256) const override {
    const MemoryTables& t = asked();
    std::map<std::string, std::string> all;
    for (const std::string& one : sha256)
      if (const auto found = value_of(t.files, one)) all.emplace(one, *found);
    return all;
  }
  std::set<std::string> kept_files(std::span<const std::string> sha256) const override {
    const MemoryTables& t = asked();
    std::set<std::string> all;
    for (const std::string& one : sha256)
      if (t.files.contains(one)) all.insert(one);
    return all;
  }
  void each_file(const std::function<void(const std::string&, const std::string&)>& visit) const override {
    for (const auto& [sha256, bytes] : asked().files) visit(sha256, bytes);
  }

  void seal(const std::string& person, const std::string& sealed) override {
    tables().sealed[person] = sealed;
  }
  std::optional<std::string> sealed_key(const std::string& person) const override {
    return value_of(asked().sealed, person);
  }
  void each_sealed_key(
      const std::function<void(const std::string&, const std::string&)>& visit) const override {
    for (const auto& [person, sealed] : asked().sealed) visit(person, sealed);
  }
  void keep_details(const std::string& person, const std::string& salt, const std::string& details) override {
    tables().details[person] = {salt, details};
  }
  void erase_details(const std::string& person) override { tables().details.erase(person); }
  bool clear_log() override { return true; }
  std::optional<std::string> details(const std::string& person) const override {
    const auto found = value_of(asked().details, person);
    return found ? std::optional(found->second) : std::nullopt;
  }
  void each_salted_details(
      const std::function<void(const std::string&, const std::string&)>& visit) const override {
    for (const auto& [person, d] : asked().details) visit(person, d.first + d.second);
  }
  std::int64_t keep_draft(const DraftRow& draft) override {
    auto& all = tables().drafts;
    const std::int64_t id = all.empty() ? 1 : all.rbegin()->first + 1;
    all.emplace(id, draft).first->second.id = id;
    return id;
  }
  std::vector<DraftRow> drafts(const std::string& person) const override {
    std::vector<DraftRow> all;
    for (const auto& [id, d] : asked().drafts)
      if (person.empty() || d.person == person) all.push_back(d);
    return all;
  }
  bool drop_draft(std::int64_t id) override { return tables().drafts.erase(id) > 0; }

 private:
  MemoryTables& tables() { return shelf_->tables; }
  const MemoryTables& asked() const {
    ++shelf_->questions;
    return shelf_->tables;
  }
  std::int64_t replaced_by(std::int64_t seq, std::int64_t before) const {
    const auto found = shelf_->tables.replaced.find(seq);
    return found != shelf_->tables.replaced.end() && found->second < before ? found->second : 0;
  }
  template <typename Value>
  static std::optional<Value> value_of(const std::map<std::string, Value>& all, const std::string& key) {
    const auto found = all.find(key);
    return found == all.end() ? std::nullopt : std::optional(found->second);
  }
  std::shared_ptr<MemoryShelf> shelf_;
  std::optional<MemoryTables> before_;
};

}  // namespace seamwright::book
