// SPDX-License-Identifier: GPL-3.0-or-later
// Looking things up, and copies.
#include <algorithm>
#include <set>

#include "catalog/book/inside.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

namespace {

constexpr const char* record_columns_where_mark =
    "SELECT e.seq, time, author, kind, payload, prev, hash, signature, coalesce(r.by, 0) FROM mark m JOIN "
    "entry e ON e.seq = m.seq LEFT JOIN replaced r ON r.seq = e.seq AND r.by < ?3 WHERE m.name = ?1 AND "
    "m.value = ?2 AND m.seq < ?3 ORDER BY m.seq";

// An entry not in the shape of its kind says nothing that could be relied on: its content stays empty.
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

}  // namespace

std::string Record::word(const char* key) const { return word_at(content, key); }

std::string Book::id() const { return inside_->id; }
int Book::schema() const { return inside_->db.schema(); }
std::vector<std::string> Book::strange_tables() const { return inside_->db.strange(); }

std::int64_t Book::count_ids() const {
  Statement s(inside_->db, "SELECT count(*) FROM book");
  return s.step() ? s.number(0) : 0;
}

std::optional<Entry> last_entry(const Database& db) {
  Statement s(
      db,
      "SELECT seq, time, author, kind, payload, prev, hash, signature FROM entry ORDER BY seq DESC LIMIT 1");
  if (!s.step()) return std::nullopt;
  return entry_of(s);
}

std::optional<Entry> Book::last() const { return last_entry(inside_->db); }

std::string Book::head() const {
  const auto e = last();
  return e ? std::to_string(e->seq) + ":" + e->hash : "0:";
}

void Book::each(const std::function<bool(const Entry&)>& take) const {
  Statement s(inside_->db,
              "SELECT seq, time, author, kind, payload, prev, hash, signature FROM entry ORDER BY seq");
  while (s.step())
    if (!take(entry_of(s))) return;
}

std::optional<Record> record_in(const Database& db, std::int64_t seq, std::int64_t end) {
  Statement s(
      db,
      "SELECT e.seq, time, author, kind, payload, prev, hash, signature, coalesce(r.by, 0) FROM entry e LEFT "
      "JOIN replaced r ON r.seq = e.seq AND r.by < ?2 WHERE e.seq = ?1 AND e.seq < ?2");
  s.bind(1, seq).bind(2, end);
  if (!s.step()) return std::nullopt;
  return record_of(entry_of(s), s.number(8));
}

std::optional<Record> Book::record(std::int64_t seq) const { return record_in(inside_->db, seq, end_); }

std::vector<Record> Book::find(const Mark& mark) const {
  std::vector<Record> all;
  Statement s(inside_->db, record_columns_where_mark);
  s.bind(1, mark.name).bind(2, mark.value).bind(3, end_);
  while (s.step()) all.push_back(record_of(entry_of(s), s.number(8)));
  return all;
}

std::vector<Record> Book::current(const Mark& mark, const std::string& kind) const {
  std::vector<Record> all;
  Statement s(
      inside_->db,
      "SELECT e.seq, time, author, kind, payload, prev, hash, signature FROM mark m JOIN entry e ON e.seq = "
      "m.seq WHERE m.name = ?1 AND m.value = ?2 AND e.kind IN (?3, 'correction') AND e.seq < ?4 AND NOT "
      "EXISTS (SELECT 1 FROM replaced r WHERE r.seq = e.seq AND r.by < ?4) ORDER BY m.seq");
  s.bind(1, mark.name).bind(2, mark.value).bind(3, kind).bind(4, end_);
  while (s.step()) {
    Record r = record_of(entry_of(s), 0);
    if (r.kind == kind) all.push_back(std::move(r));
  }
  return all;
}

std::vector<std::string> Book::names_of(const std::string& value) const {
  std::vector<std::string> names;
  std::vector<std::string> all;
  for (const Kind& k : kinds())
    for (const Key& key : k.keys)
      if (key.mark[0] && std::find(all.begin(), all.end(), key.mark) == all.end()) all.emplace_back(key.mark);
  for (const std::string& name : all) {
    Statement s(inside_->db, "SELECT 1 FROM mark WHERE name = ?1 AND value = ?2 AND seq < ?3 LIMIT 1");
    s.bind(1, name).bind(2, value).bind(3, end_);
    if (s.step()) names.push_back(name);
  }
  return names;
}

std::vector<std::string> Book::values_of(const std::string& name) const {
  std::vector<std::string> all;
  Statement s(inside_->db, "SELECT DISTINCT value FROM mark WHERE name = ?1 AND seq < ?2 ORDER BY value");
  s.bind(1, name).bind(2, end_);
  while (s.step()) all.push_back(s.text(0));
  return all;
}

std::vector<std::string> Book::frames_with(const Mark& carried) const {
  std::vector<std::string> all;
  Statement s(inside_->db, "SELECT frame FROM carried WHERE name = ?1 AND value = ?2 ORDER BY frame");
  s.bind(1, carried.name).bind(2, carried.value);
  while (s.step()) all.push_back(s.text(0));
  return all;
}

std::vector<Mark> Book::carried(const std::string& frame) const {
  std::vector<Mark> all;
  if (end_ != std::numeric_limits<std::int64_t>::max()) {  // the table tells of today alone
    std::set<Mark> then;
    for (const Record& r : find({"frame", frame}))
      if (r.current())
        for (Mark& m : carried_by(content_of(r.entry.kind, r.entry.payload))) then.insert(std::move(m));
    return {then.begin(), then.end()};
  }
  Statement s(inside_->db, "SELECT name, value FROM carried WHERE frame = ?1 ORDER BY name, value");
  s.bind(1, frame);
  while (s.step()) all.push_back({s.text(0), s.text(1)});
  return all;
}

std::optional<std::string> Book::attachment(const std::string& sha256) const {
  if (!inside_->db.has("attachment")) return std::nullopt;
  Statement s(inside_->db, "SELECT bytes FROM attachment WHERE sha256 = ?1");
  s.bind(1, sha256);
  if (!s.step()) return std::nullopt;
  return s.text(0);
}

void Book::each_attachment(const std::function<void(const std::string&, const std::string&)>& take) const {
  if (!inside_->db.has("attachment")) return;
  Statement s(inside_->db, "SELECT sha256, bytes FROM attachment ORDER BY sha256");
  while (s.step()) take(s.text(0), s.text(1));
}

void Book::each_mark(const std::function<void(const Mark&, std::int64_t)>& take) const {
  if (!inside_->db.has("mark")) return;
  Statement s(inside_->db, "SELECT name, value, seq FROM mark");
  while (s.step()) take({s.text(0), s.text(1)}, s.number(2));
}

void Book::each_carried(const std::function<void(const Mark&, const std::string&)>& take) const {
  if (!inside_->db.has("carried")) return;
  Statement s(inside_->db, "SELECT name, value, frame FROM carried");
  while (s.step()) take({s.text(0), s.text(1)}, s.text(2));
}

void Book::each_replaced(const std::function<void(std::int64_t, std::int64_t)>& take) const {
  if (!inside_->db.has("replaced")) return;
  Statement s(inside_->db, "SELECT seq, by FROM replaced");
  while (s.step()) take(s.number(0), s.number(1));
}

std::string Book::damage() const {
  Statement s(inside_->db, "PRAGMA integrity_check(1)");
  const std::string said = s.step() ? s.text(0) : "";
  return said == "ok" ? "" : said;
}

void Book::copy_to(const std::string& path) const {
  Database to(path, Database::Mode::create_empty);
  struct End {
    void operator()(sqlite3_backup* b) const { sqlite3_backup_finish(b); }
  };
  const std::unique_ptr<sqlite3_backup, End> backup(
      sqlite3_backup_init(to.handle(), "main", inside_->db.handle(), "main"));
  if (!backup) throw Fault{Message{"book.sql", {text("why", sqlite3_errmsg(to.handle()))}}};
  int code = SQLITE_OK, waits = 0;
  do {
    code = sqlite3_backup_step(backup.get(), 1000);
    if ((code == SQLITE_BUSY || code == SQLITE_LOCKED) && ++waits > 500)  // ten seconds
      throw Fault{Message{"book.busy", {text("why", sqlite3_errstr(code))}}};
    if (code == SQLITE_BUSY || code == SQLITE_LOCKED) sqlite3_sleep(20);
  } while (code == SQLITE_OK || code == SQLITE_BUSY || code == SQLITE_LOCKED);
  if (code != SQLITE_DONE)
    throw Fault{Message{(code & 0xff) == SQLITE_FULL ? "book.full" : "book.sql",
                        {text("why", sqlite3_errstr(code))}}};
}

}  // namespace seamwright::book
