// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/store/sqlite_store.h"

#include <algorithm>
#include <bit>
#include <filesystem>
#include <fstream>

#include "catalog/book/store/copy_rows.h"
#include "catalog/book/store/sqlite_database.h"
#include "catalog/book/store/sqlite_schema.h"
#include "catalog/book/store/stores.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

namespace {


constexpr int column_count = 11;

EntryRow entry_row(const Statement& s, int first = 0) {
  return {s.number(first),    s.text(first + 1), s.text(first + 2), s.text(first + 3),
          s.text(first + 4),  s.text(first + 5), s.text(first + 6), s.text(first + 7),
          s.number(first + 8) != 0 ? 2 : 1, s.text(first + 9), s.text(first + 10)};
}

Person person_row(const Statement& s) {
  return {s.text(0), s.text(1), s.text(2), s.text(3), s.number(4), s.number(5)};
}

// "WITH asked(n, a, b) AS (VALUES (0, ?3, ?4), (1, ?5, ?6)) ", of as many rows as the next power of two has,
// so that few different statements are prepared; what is not bound is NULL and equals nothing.
std::string with_asked(std::size_t rows, int columns, int first) {
  std::string sql = columns == 1 ? "WITH asked(n, a) AS (VALUES " : "WITH asked(n, a, b) AS (VALUES ";
  const std::size_t all = std::bit_ceil(rows);
  for (std::size_t row = 0; row < all; ++row) {
    sql.append(row > 0 ? ", (" : "(").append(std::to_string(row));
    for (int c = 0; c < columns; ++c) sql.append(", ?").append(std::to_string(first++));
    sql.append(")");
  }
  return sql + ") ";
}

// Calls ask for every portion of what is asked that one statement holds.
void in_portions(const auto& all, const auto& ask) {
  for (std::size_t from = 0; from < all.size(); from += most_asked)
    ask(all.subspan(from, std::min<std::size_t>(most_asked, all.size() - from)), from);
}

void bind(Statement& s, int first, std::span<const std::string> values) {
  for (const std::string& value : values) s.bind(first++, value);
}
void bind(Statement& s, int first, std::span<const Mark> marks) {
  for (const Mark& mark : marks) {
    s.bind(first++, mark.name);
    s.bind(first++, mark.value);
  }
}

class SqliteStore : public Store {
 public:
  SqliteStore(const std::string& path, Database::Mode mode)
      : db_(path, mode),
        in_vain_(mode == Database::Mode::create || mode == Database::Mode::create_empty ? path : "") {}
  ~SqliteStore() override {
    if (in_vain_.empty()) return;
    db_.close();
    remove_sqlite(in_vain_);
  }

  Form form() const override {
    return {db_.schema(), db_.schema() > newest_schema, db_.schema() < newest_schema, db_.schema() != 1 || !db_.strange().empty(),
            db_.strange()};
  }
  std::vector<std::string> ids() const override { return texts("SELECT id FROM book"); }
  std::string damage() const override {
    Statement s(db_, "PRAGMA integrity_check(1)");
    const std::string told = s.step() ? s.text(0) : "";
    return told == "ok" ? "" : told;
  }
  void copy_to(const std::string& where) const override;

  void begin() override { db_.run("BEGIN IMMEDIATE"); }
  void commit() override {
    db_.run("COMMIT");
    in_vain_.clear();
  }
  void roll_back() noexcept override { sqlite3_exec(db_.handle(), "ROLLBACK", nullptr, nullptr, nullptr); }
  bool hold_still() const override {
    return sqlite3_get_autocommit(db_.handle()) != 0 && sqlite3_exec(db_.handle(), "BEGIN", nullptr, nullptr, nullptr) == SQLITE_OK;
  }
  void let_go() const noexcept override { sqlite3_exec(db_.handle(), "ROLLBACK", nullptr, nullptr, nullptr); }
  void set_id(const std::string& id) override {
    Statement(db_, "INSERT INTO book VALUES(?1)").bind(1, id).step();
  }
  bool bring_up_to_date() override { return db_.strange().empty() && db_.add_tables(); }

  void add(const EntryRow& e) override {
    Statement(db_, "INSERT INTO entry VALUES(?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)")
        .bind(1, e.seq)
        .bind(2, e.time)
        .bind(3, e.author)
        .bind(4, e.kind)
        .bind(5, e.payload)
        .bind(6, e.prev)
        .bind(7, e.hash)
        .bind(8, e.signature)
        .step();
    if (e.form == 2)
      Statement(db_, "INSERT INTO statement VALUES(?1, ?2, ?3)").bind(1, e.seq).bind(2, e.seen).bind(3, e.links).step();
  }
  std::optional<EntryRow> last() const override {
    Statement s(db_, "SELECT " + columns() + " FROM entry e" + statements() + " ORDER BY e.seq DESC LIMIT 1");
    return s.step() ? std::optional(entry_row(s)) : std::nullopt;
  }
  void each_entry(const std::function<bool(EntryRow)>& visit) const override {
    Statement s(db_, "SELECT " + columns() + " FROM entry e" + statements() + " ORDER BY e.seq");
    while (s.step())
      if (!visit(entry_row(s))) return;
  }
  std::vector<FoundEntry> entries(std::span<const std::int64_t> seqs, std::int64_t before) const override;
  std::vector<FoundEntry> marked(std::span<const Mark> marks, std::span<const std::string> kinds,
                                 std::int64_t before) const override;

  std::int64_t last_about(const Mark& mark, std::int64_t before) const override;

  std::optional<Person> person(const std::string& id) const override {
    Statement s(db_, "SELECT id, stamp, role, public_key, since, revoked FROM person WHERE id = ?1");
    s.bind(1, id);
    return s.step() ? std::optional(person_row(s)) : std::nullopt;
  }
  std::vector<Person> people() const override {
    std::vector<Person> all;
    Statement s(db_, "SELECT id, stamp, role, public_key, since, revoked FROM person ORDER BY id");
    while (s.step()) all.push_back(person_row(s));
    return all;
  }
  void put_person(const Person& p) override {
    Statement(db_, "INSERT OR REPLACE INTO person VALUES(?1, ?2, ?3, ?4, ?5, ?6)")
        .bind(1, p.id)
        .bind(2, p.stamp)
        .bind(3, p.role)
        .bind(4, p.public_key)
        .bind(5, p.from)
        .bind(6, p.revoked)
        .step();
  }
  void mark(std::span<const Mark> marks, std::int64_t seq) override {
    for (const Mark& m : marks)
      Statement(db_, "INSERT OR IGNORE INTO mark VALUES(?1, ?2, ?3)")
          .bind(1, m.name)
          .bind(2, m.value)
          .bind(3, seq)
          .step();
  }
  void carry(std::span<const Mark> carried, const std::string& frame) override {
    for (const Mark& m : carried)
      Statement(db_, "INSERT OR IGNORE INTO carried VALUES(?1, ?2, ?3)")
          .bind(1, m.name)
          .bind(2, m.value)
          .bind(3, frame)
          .step();
  }
  void drop_carried(const std::string& frame) override {
    Statement(db_, "DELETE FROM carried WHERE frame = ?1").bind(1, frame).step();
  }
  void replace(std::int64_t seq, std::int64_t by) override {
    Statement(db_, "INSERT OR IGNORE INTO replaced VALUES(?1, ?2)").bind(1, seq).bind(2, by).step();
  }
  void clear_derived() override { db_.make_derived_tables(); }
  std::vector<Mark> marks(std::span<const std::string> names, std::int64_t before) const override;
  std::vector<Mark> known_marks(std::span<const Mark> marks, std::int64_t before) const override;
  std::vector<std::string> frames_with(std::span<const Mark> carried) const override;
  std::vector<Mark> carried(const std::string& frame) const override {
    std::vector<Mark> all;
    Statement s(db_, "SELECT name, value FROM carried WHERE frame = ?1 ORDER BY name, value");
    s.bind(1, frame);
    while (s.step()) all.push_back({s.text(0), s.text(1)});
    return all;
  }
  void each_mark(const std::function<void(const Mark&, std::int64_t)>& visit) const override {
    if (!db_.has("mark")) return;
    Statement s(db_, "SELECT name, value, seq FROM mark");
    while (s.step()) visit({s.text(0), s.text(1)}, s.number(2));
  }
  void each_carried(const std::function<void(const Mark&, const std::string&)>& visit) const override {
    if (!db_.has("carried")) return;
    Statement s(db_, "SELECT name, value, frame FROM carried");
    while (s.step()) visit({s.text(0), s.text(1)}, s.text(2));
  }
  void each_replaced(const std::function<void(std::int64_t, std::int64_t)>& visit) const override {
    if (!db_.has("replaced")) return;
    Statement s(db_, "SELECT seq, by FROM replaced");
    while (s.step()) visit(s.number(0), s.number(1));
  }

  void keep_file(const std::string& sha256, const std::string& bytes) override {
    Statement(db_, "INSERT OR IGNORE INTO attachment VALUES(?1, ?2)")
        .bind(1, sha256)
        .bind_bytes(2, bytes)
        .step();
  }
  std::map<std::string, std::string> files(std::span<const std::string> sha256) const override;
  std::set<std::string> kept_files(std::span<const std::string> sha256) const override;
  void each_file(const std::function<void(const std::string&, const std::string&)>& visit) const override {
    if (db_.has("attachment")) each_pair("SELECT sha256, bytes FROM attachment ORDER BY sha256", visit);
  }

  void seal(const std::string& person, const std::string& sealed) override {
    Statement(db_, "INSERT OR REPLACE INTO sealed_key VALUES(?1, ?2)").bind(1, person).bind(2, sealed).step();
  }
  std::optional<std::string> sealed_key(const std::string& person) const override {
    return text_of("SELECT sealed FROM sealed_key WHERE person = ?1", person);
  }
  void each_sealed_key(
      const std::function<void(const std::string&, const std::string&)>& visit) const override {
    each_pair("SELECT person, sealed FROM sealed_key ORDER BY person", visit);
  }
  void keep_details(const std::string& person, const std::string& salt, const std::string& details) override {
    Statement(db_, "INSERT OR REPLACE INTO personal VALUES(?1, ?2, ?3)")
        .bind(1, person)
        .bind(2, salt)
        .bind(3, details)
        .step();
  }
  // Deleted bytes are overwritten in the file; the log beside it must not keep it either.
  void erase_details(const std::string& person) override {
    Statement(db_, "DELETE FROM personal WHERE person = ?1").bind(1, person).step();
  }
  bool clear_log() override {
    Statement s(db_, "PRAGMA wal_checkpoint(TRUNCATE)");
    return !s.step() || s.number(0) == 0;
  }
  std::optional<std::string> details(const std::string& person) const override {
    if (!db_.has("personal")) return std::nullopt;
    return text_of("SELECT details FROM personal WHERE person = ?1", person);
  }
  void each_salted_details(
      const std::function<void(const std::string&, const std::string&)>& visit) const override {
    if (db_.has("personal")) each_pair("SELECT person, salt || details FROM personal ORDER BY person", visit);
  }
  std::int64_t keep_draft(const DraftRow& d) override {
    Statement(db_, "INSERT INTO draft(person, time, kind, payload) VALUES(?1, ?2, ?3, ?4)")
        .bind(1, d.person)
        .bind(2, d.time)
        .bind(3, d.kind)
        .bind(4, d.payload)
        .step();
    return sqlite3_last_insert_rowid(db_.handle());
  }
  std::vector<DraftRow> drafts(const std::string& person) const override {
    std::vector<DraftRow> all;
    Statement s(db_,
                "SELECT id, person, time, kind, payload FROM draft WHERE ?1 IN ('', person) ORDER BY id");
    s.bind(1, person);
    while (s.step()) all.push_back({s.number(0), s.text(1), s.text(2), s.text(3), s.text(4)});
    return all;
  }
  bool drop_draft(std::int64_t id) override {
    Statement(db_, "DELETE FROM draft WHERE id = ?1").bind(1, id).step();
    return sqlite3_changes(db_.handle()) > 0;
  }

 private:
  std::vector<std::string> texts(const char* sql) const {
    std::vector<std::string> all;
    Statement s(db_, sql);
    while (s.step()) all.push_back(s.text(0));
    return all;
  }
  std::optional<std::string> text_of(const char* sql, const std::string& key) const {
    Statement s(db_, sql);
    s.bind(1, key);
    return s.step() ? std::optional(s.text(0)) : std::nullopt;
  }
  void each_pair(const char* sql,
                 const std::function<void(const std::string&, const std::string&)>& visit) const {
    Statement s(db_, sql);
    while (s.step()) visit(s.text(0), s.text(1));
  }

  // An older file, or one that was tampered with, has no statements.
  bool has_statements() const { return db_.has("statement"); }
  std::string columns() const {
    return std::string("e.seq, e.time, e.author, e.kind, e.payload, e.prev, e.hash, e.signature, ") +
           (has_statements() ? "st.seq IS NOT NULL, coalesce(st.seen, ''), coalesce(st.links, '')" : "0, '', ''");
  }
  std::string statements() const { return has_statements() ? " LEFT JOIN statement st ON st.seq = e.seq" : ""; }

  Database db_;
  std::string in_vain_;  ///< path of a new file to which nothing was committed yet
};

std::vector<Store::FoundEntry> SqliteStore::entries(std::span<const std::int64_t> seqs,
                                                    std::int64_t before) const {
  std::vector<FoundEntry> all;
  in_portions(seqs, [&](std::span<const std::int64_t> portion, std::size_t from) {
    Statement s(db_,
                with_asked(portion.size(), 1, 2) + "SELECT asked.n, " + columns() +
                    ", coalesce(r.by, 0) FROM asked CROSS JOIN entry e ON e.seq = asked.a" + statements() + " LEFT JOIN replaced "
                    "r ON r.seq = e.seq AND r.by < ?1 WHERE e.seq < ?1 ORDER BY asked.n");
    s.bind(1, before);
    for (std::size_t i = 0; i < portion.size(); ++i) s.bind(static_cast<int>(i) + 2, portion[i]);
    while (s.step())
      all.push_back({from + static_cast<std::size_t>(s.number(0)), entry_row(s, 1), s.number(1 + column_count)});
  });
  return all;
}

std::vector<Store::FoundEntry> SqliteStore::marked(std::span<const Mark> marks,
                                                   std::span<const std::string> kinds,
                                                   std::int64_t before) const {
  std::string wanted;
  for (const std::string& kind : kinds) wanted.append(wanted.empty() ? "|" : "").append(kind).append("|");
  std::vector<FoundEntry> all;
  in_portions(marks, [&](std::span<const Mark> portion, std::size_t from) {
    Statement s(db_,
                with_asked(portion.size(), 2, 3) + "SELECT asked.n, " + columns() +
                    ", coalesce(r.by, 0) FROM asked CROSS JOIN mark m ON m.name = asked.a AND m.value = "
                    "asked.b CROSS JOIN entry e ON e.seq = m.seq" + statements() + " LEFT JOIN replaced r ON r.seq = e.seq AND "
                    "r.by < ?1 WHERE m.seq < ?1 AND (?2 = '' OR instr(?2, '|' || e.kind || '|') > 0) ORDER "
                    "BY asked.n, m.seq");
    s.bind(1, before).bind(2, wanted);
    bind(s, 3, portion);
    while (s.step())
      all.push_back({from + static_cast<std::size_t>(s.number(0)), entry_row(s, 1), s.number(1 + column_count)});
  });
  return all;
}

std::int64_t SqliteStore::last_about(const Mark& mark, std::int64_t before) const {
  Statement s(db_,
              "SELECT coalesce(max(max(m.seq, coalesce(r.by, 0))), 0) FROM mark m LEFT JOIN replaced r ON r.seq = m.seq AND r.by < ?1 "
              "WHERE m.name = ?2 AND m.value = ?3 AND m.seq < ?1");
  s.bind(1, before).bind(2, mark.name).bind(3, mark.value);
  return s.step() ? s.number(0) : 0;
}

std::vector<Mark> SqliteStore::marks(std::span<const std::string> names, std::int64_t before) const {
  std::vector<Mark> all;
  in_portions(names, [&](std::span<const std::string> portion, std::size_t) {
    Statement s(db_,
                with_asked(portion.size(), 1, 2) +
                    "SELECT DISTINCT m.name, m.value FROM asked CROSS JOIN mark m ON m.name = asked.a WHERE "
                    "m.seq < ?1");
    s.bind(1, before);
    bind(s, 2, portion);
    while (s.step()) all.push_back({s.text(0), s.text(1)});
  });
  std::sort(all.begin(), all.end());
  return all;
}

std::vector<Mark> SqliteStore::known_marks(std::span<const Mark> marks, std::int64_t before) const {
  std::vector<Mark> all;
  in_portions(marks, [&](std::span<const Mark> portion, std::size_t) {
    Statement s(db_,
                with_asked(portion.size(), 2, 2) +
                    "SELECT asked.n FROM asked WHERE EXISTS (SELECT 1 FROM mark m WHERE m.name = asked.a AND "
                    "m.value = asked.b AND m.seq < ?1) ORDER BY asked.n");
    s.bind(1, before);
    bind(s, 2, portion);
    while (s.step()) all.push_back(portion[static_cast<std::size_t>(s.number(0))]);
  });
  return all;
}

std::vector<std::string> SqliteStore::frames_with(std::span<const Mark> carried) const {
  std::set<std::string> all;
  in_portions(carried, [&](std::span<const Mark> portion, std::size_t) {
    Statement s(db_, with_asked(portion.size(), 2, 1) +
                         "SELECT c.frame FROM asked CROSS JOIN carried c ON c.name = asked.a AND c.value = "
                         "asked.b");
    bind(s, 1, portion);
    while (s.step()) all.insert(s.text(0));
  });
  return {all.begin(), all.end()};
}

std::map<std::string, std::string> SqliteStore::files(std::span<const std::string> sha256) const {
  std::map<std::string, std::string> all;
  if (!db_.has("attachment")) return all;
  in_portions(sha256, [&](std::span<const std::string> portion, std::size_t) {
    Statement s(db_, with_asked(portion.size(), 1, 1) +
                         "SELECT f.sha256, f.bytes FROM asked CROSS JOIN attachment f ON f.sha256 = asked.a");
    bind(s, 1, portion);
    while (s.step()) all.emplace(s.text(0), s.text(1));
  });
  return all;
}

std::set<std::string> SqliteStore::kept_files(std::span<const std::string> sha256) const {
  std::set<std::string> all;
  if (!db_.has("attachment")) return all;
  in_portions(sha256, [&](std::span<const std::string> portion, std::size_t) {
    Statement s(db_, with_asked(portion.size(), 1, 1) +
                         "SELECT f.sha256 FROM asked CROSS JOIN attachment f ON f.sha256 = asked.a");
    bind(s, 1, portion);
    while (s.step()) all.insert(s.text(0));
  });
  return all;
}

void SqliteStore::copy_to(const std::string& where) const {
  if (!is_path(where)) return copy_rows(*this, *open_store(where, Access::create));
  SqliteStore made(where, Database::Mode::create_empty);
  const Database& to = made.db_;
  struct End {
    void operator()(sqlite3_backup* b) const { sqlite3_backup_finish(b); }
  };
  std::unique_ptr<sqlite3_backup, End> backup(sqlite3_backup_init(to.handle(), "main", db_.handle(), "main"));
  if (!backup)
    throw Fault{Message{"book.sql", {text("why", sqlite3_errmsg(to.handle()))}}, Category::machine};
  int code = SQLITE_OK, waits = 0;
  do {
    code = sqlite3_backup_step(backup.get(), 1000);
    if ((code == SQLITE_BUSY || code == SQLITE_LOCKED) && ++waits > 500)  // ten seconds
      throw Fault{Message{"book.busy", {text("why", sqlite3_errstr(code))}}, Category::locked};
    if (code == SQLITE_BUSY || code == SQLITE_LOCKED) sqlite3_sleep(20);
  } while (code == SQLITE_OK || code == SQLITE_BUSY || code == SQLITE_LOCKED);
  if (code != SQLITE_DONE)
    throw Fault{Message{(code & 0xff) == SQLITE_FULL ? MessageId("book.full") : "book.sql",
                        {text("why", sqlite3_errstr(code))}},
                Category::machine};
  made.in_vain_.clear();
}

}  // namespace

std::unique_ptr<Store> open_sqlite(const std::string& path, Access access) {
  return std::make_unique<SqliteStore>(path, access == Access::create  ? Database::Mode::create
                                             : access == Access::write ? Database::Mode::write
                                                                       : Database::Mode::read);
}

bool is_sqlite_file(const std::string& path) {
  std::error_code ignored;
  if (!std::filesystem::is_regular_file(path, ignored)) return false;
  std::ifstream file(path, std::ios::binary);
  std::string start(15, '\0');
  return file.read(start.data(), 15) && start == "SQLite format 3";
}

void remove_sqlite(const std::string& path) {
  std::error_code ignored;
  for (const char* end : {"", "-wal", "-shm", "-journal"}) std::filesystem::remove(path + end, ignored);
}

}  // namespace seamwright::book
