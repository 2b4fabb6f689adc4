// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/store/postgres_store.h"

#include <algorithm>
#include <sstream>

#include "catalog/book/store/copy_rows.h"
#include "catalog/book/store/postgres_connection.h"
#include "catalog/book/store/stores.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

namespace {

constexpr const char* server_prefix = "postgres:";
constexpr int server_schema = 3;  // as the file of the same tables states it

std::string service_of(const std::string& where) { return where.substr(std::string(server_prefix).size()); }

constexpr int columns_of_entry = 11;
constexpr const char* entry_columns =
    "e.seq, e.time, e.author, e.kind, e.payload, e.prev, e.hash, e.signature, st.seq IS NOT NULL, coalesce(st.seen, ''), coalesce(st.links, '')";

EntryRow entry_at_row(const Rows& r, int row, int first = 0) {
  return {r.number(row, first),   r.text(row, first + 1), r.text(row, first + 2), r.text(row, first + 3),
          r.text(row, first + 4), r.text(row, first + 5), r.text(row, first + 6), r.text(row, first + 7),
          r.number(row, first + 8) != 0 ? 2 : 1, r.text(row, first + 9), r.text(row, first + 10)};
}

Person person_at_row(const Rows& r, int row) {
  return {r.text(row, 0), r.text(row, 1), r.text(row, 2), r.text(row, 3), r.number(row, 4), r.number(row, 5)};
}

Bound names_in(std::span<const Mark> marks) {
  std::vector<std::string> all;
  for (const Mark& m : marks) all.push_back(m.name);
  return array_of(all);
}
Bound values_in(std::span<const Mark> marks) {
  std::vector<std::string> all;
  for (const Mark& m : marks) all.push_back(m.value);
  return array_of(all);
}
Bound texts_in(std::span<const std::string> texts) { return array_of({texts.begin(), texts.end()}); }

const std::string& text_of_file(std::size_t i) { return postgres_files()[i].text; }

class PostgresStore : public Store {
 public:
  PostgresStore(const std::string& where, Access access) : c_(service_of(where), access == Access::read) {
    const Rows there = c_.ask("SELECT to_regclass('seamwright.entry') IS NOT NULL");
    if (there.number(0, 0) == 0) {
      if (access != Access::create) throw Fault{Message{"book.missing-on-server", {text("found", service_of(where))}}};
      c_.run("BEGIN;\n" + text_of_file(0) + "COMMIT;");
    }
    if (access == Access::create && !ids().empty())
      throw Fault{Message{"book.exists", {text("file", where), text("why", where)}}};
  }

  Form form() const override;
  std::vector<std::string> ids() const override { return texts(c_.ask("SELECT id FROM book ORDER BY id")); }
  std::string damage() const override { return ""; }
  void copy_to(const std::string& where) const override { copy_rows(*this, *open_store(where, Access::create)); }

  // The lock comes before anything is seen: a serialisable transaction sees the book as it was at its first question.
  void begin() override {
    c_.later("BEGIN ISOLATION LEVEL SERIALIZABLE");
    c_.later("LOCK TABLE turn IN EXCLUSIVE MODE");
    c_.set_in_transaction(true);
  }
  void commit() override {
    try {
      c_.ask("COMMIT");
    } catch (const Fault& f) {
      c_.set_in_transaction(false);
      if (f.message.id == "book.connection-lost") throw Fault{Message{"book.unsure", f.message.arguments}, Category::machine};
      throw;
    }
    c_.set_in_transaction(false);
  }
  void roll_back() noexcept override {
    c_.forget();
    c_.set_in_transaction(false);
    try {
      c_.ask("ROLLBACK");
    } catch (const Fault&) {
      return;  // a connection that is lost took its transaction along
    }
  }
  bool hold_still() const override {
    if (c_.in_transaction()) return false;
    c_.later("BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY");
    c_.set_in_transaction(true);
    return true;
  }
  void let_go() const noexcept override { const_cast<PostgresStore*>(this)->roll_back(); }
  void set_id(const std::string& id) override { c_.later("INSERT INTO book VALUES($1)", {id}); }
  bool bring_up_to_date() override { return false; }

  void add(const EntryRow& e) override {
    c_.later("INSERT INTO entry VALUES($1, $2, $3, $4, $5, $6, $7, $8)", {e.seq, e.time, e.author, e.kind, e.payload, e.prev, e.hash, e.signature});
    if (e.form == 2) c_.later("INSERT INTO statement VALUES($1, $2, $3)", {e.seq, e.seen, e.links});
  }
  std::optional<EntryRow> last() const override {
    const Rows r = c_.ask(std::string("SELECT ") + entry_columns + " FROM entry e LEFT JOIN statement st ON st.seq = e.seq ORDER BY e.seq DESC LIMIT 1");
    return r.count() > 0 ? std::optional(entry_at_row(r, 0)) : std::nullopt;
  }
  void each_entry(const std::function<bool(EntryRow)>& visit) const override {
    over_cursor(std::string("SELECT ") + entry_columns + " FROM entry e LEFT JOIN statement st ON st.seq = e.seq ORDER BY e.seq", 1000,
                [&](const Rows& r, int row) { return visit(entry_at_row(r, row)); });
  }
  std::vector<FoundEntry> entries(std::span<const std::int64_t> seqs, std::int64_t before) const override;
  std::vector<FoundEntry> marked(std::span<const Mark> marks, std::span<const std::string> kinds, std::int64_t before) const override;
  std::int64_t last_about(const Mark& mark, std::int64_t before) const override {
    return c_.ask("SELECT coalesce(max(greatest(m.seq, coalesce(r.by, 0))), 0) FROM mark m LEFT JOIN replaced r ON r.seq = m.seq AND r.by < $1 "
                  "WHERE m.name = $2 AND m.value = $3 AND m.seq < $1",
                  {before, mark.name, mark.value})
        .number(0, 0);
  }

  std::optional<Person> person(const std::string& id) const override {
    const Rows r = c_.ask("SELECT id, stamp, role, public_key, since, revoked FROM person WHERE id = $1", {id});
    return r.count() > 0 ? std::optional(person_at_row(r, 0)) : std::nullopt;
  }
  std::vector<Person> people() const override {
    const Rows r = c_.ask("SELECT id, stamp, role, public_key, since, revoked FROM person ORDER BY id");
    std::vector<Person> all;
    for (int row = 0; row < r.count(); ++row) all.push_back(person_at_row(r, row));
    return all;
  }
  void put_person(const Person& p) override {
    c_.later("INSERT INTO person VALUES($1, $2, $3, $4, $5, $6) ON CONFLICT (id) DO UPDATE SET stamp = excluded.stamp, role = excluded.role, "
             "public_key = excluded.public_key, since = excluded.since, revoked = excluded.revoked",
             {p.id, p.stamp, p.role, p.public_key, p.from, p.revoked});
  }
  void mark(std::span<const Mark> marks, std::int64_t seq) override {
    if (!marks.empty())
      c_.later("INSERT INTO mark SELECT a, b, $3::bigint FROM unnest($1::text[], $2::text[]) AS asked(a, b) ON CONFLICT DO NOTHING",
               {names_in(marks), values_in(marks), seq});
  }
  void carry(std::span<const Mark> carried, const std::string& frame) override {
    if (!carried.empty())
      c_.later("INSERT INTO carried SELECT a, b, $3::text FROM unnest($1::text[], $2::text[]) AS asked(a, b) ON CONFLICT DO NOTHING",
               {names_in(carried), values_in(carried), frame});
  }
  void drop_carried(const std::string& frame) override { c_.later("DELETE FROM carried WHERE frame = $1", {frame}); }
  void replace(std::int64_t seq, std::int64_t by) override { c_.later("INSERT INTO replaced VALUES($1, $2) ON CONFLICT DO NOTHING", {seq, by}); }
  void clear_derived() override {
    for (const char* table : {"person", "mark", "carried", "replaced"}) c_.later(std::string("DELETE FROM ") + table);
  }
  std::vector<Mark> marks(std::span<const std::string> names, std::int64_t before) const override {
    return marks_in(c_.ask("SELECT DISTINCT name, value FROM mark WHERE name = ANY($1::text[]) AND seq < $2 ORDER BY name, value", {texts_in(names), before}));
  }
  std::vector<Mark> known_marks(std::span<const Mark> marks, std::int64_t before) const override {
    return marks_in(c_.ask("SELECT asked.a, asked.b FROM unnest($1::text[], $2::text[]) WITH ORDINALITY AS asked(a, b, n) WHERE EXISTS "
                           "(SELECT FROM mark m WHERE m.name = asked.a AND m.value = asked.b AND m.seq < $3) ORDER BY asked.n",
                           {names_in(marks), values_in(marks), before}));
  }
  std::vector<std::string> frames_with(std::span<const Mark> carried) const override {
    return texts(c_.ask("SELECT DISTINCT c.frame FROM carried c JOIN unnest($1::text[], $2::text[]) AS asked(a, b) ON c.name = asked.a AND "
                        "c.value = asked.b ORDER BY c.frame",
                        {names_in(carried), values_in(carried)}));
  }
  std::vector<Mark> carried(const std::string& frame) const override {
    return marks_in(c_.ask("SELECT name, value FROM carried WHERE frame = $1 ORDER BY name, value", {frame}));
  }
  void each_mark(const std::function<void(const Mark&, std::int64_t)>& visit) const override {
    over_cursor("SELECT name, value, seq FROM mark ORDER BY name, value, seq", 10000, [&](const Rows& r, int row) {
      visit({r.text(row, 0), r.text(row, 1)}, r.number(row, 2));
      return true;
    });
  }
  void each_carried(const std::function<void(const Mark&, const std::string&)>& visit) const override {
    over_cursor("SELECT name, value, frame FROM carried ORDER BY name, value, frame", 10000, [&](const Rows& r, int row) {
      visit({r.text(row, 0), r.text(row, 1)}, r.text(row, 2));
      return true;
    });
  }
  void each_replaced(const std::function<void(std::int64_t, std::int64_t)>& visit) const override {
    over_cursor("SELECT seq, by FROM replaced ORDER BY seq", 10000, [&](const Rows& r, int row) {
      visit(r.number(row, 0), r.number(row, 1));
      return true;
    });
  }

  void keep_file(const std::string& sha256, const std::string& bytes) override {
    c_.later("INSERT INTO attachment VALUES($1, $2) ON CONFLICT DO NOTHING", {sha256, Bound::bytes(bytes)});
  }
  std::map<std::string, std::string> files(std::span<const std::string> sha256) const override {
    const Rows r = c_.ask("SELECT sha256, bytes FROM attachment WHERE sha256 = ANY($1::text[])", {texts_in(sha256)});
    std::map<std::string, std::string> all;
    for (int row = 0; row < r.count(); ++row) all.emplace(r.text(row, 0), r.text(row, 1));
    return all;
  }
  std::set<std::string> kept_files(std::span<const std::string> sha256) const override {
    const auto all = texts(c_.ask("SELECT sha256 FROM attachment WHERE sha256 = ANY($1::text[])", {texts_in(sha256)}));
    return {all.begin(), all.end()};
  }
  void each_file(const std::function<void(const std::string&, const std::string&)>& visit) const override {
    each_pair("SELECT sha256, bytes FROM attachment ORDER BY sha256", 1, visit);
  }

  void seal(const std::string& person, const std::string& sealed) override {
    c_.later("INSERT INTO sealed_key VALUES($1, $2) ON CONFLICT (person) DO UPDATE SET sealed = excluded.sealed", {person, sealed});
  }
  std::optional<std::string> sealed_key(const std::string& person) const override {
    return first_text(c_.ask("SELECT sealed FROM sealed_key WHERE person = $1", {person}));
  }
  void each_sealed_key(const std::function<void(const std::string&, const std::string&)>& visit) const override {
    each_pair("SELECT person, sealed FROM sealed_key ORDER BY person", 1000, visit);
  }
  void keep_details(const std::string& person, const std::string& salt, const std::string& details) override {
    c_.later("INSERT INTO personal VALUES($1, $2, $3) ON CONFLICT (person) DO UPDATE SET salt = excluded.salt, details = excluded.details",
             {person, salt, details});
  }
  void erase_details(const std::string& person) override { c_.later("DELETE FROM personal WHERE person = $1", {person}); }
  bool clear_log() override { return true; }  // the server's own log and backups are its keeper's
  std::optional<std::string> details(const std::string& person) const override {
    return first_text(c_.ask("SELECT details FROM personal WHERE person = $1", {person}));
  }
  void each_salted_details(const std::function<void(const std::string&, const std::string&)>& visit) const override {
    each_pair("SELECT person, salt || details FROM personal ORDER BY person", 1000, visit);
  }
  std::int64_t keep_draft(const DraftRow& d) override {
    return c_.ask("INSERT INTO draft(person, time, kind, payload) VALUES($1, $2, $3, $4) RETURNING id", {d.person, d.time, d.kind, d.payload}).number(0, 0);
  }
  std::vector<DraftRow> drafts(const std::string& person) const override {
    const Rows r = c_.ask("SELECT id, person, time, kind, payload FROM draft WHERE $1 IN ('', person) ORDER BY id", {person});
    std::vector<DraftRow> all;
    for (int row = 0; row < r.count(); ++row) all.push_back({r.number(row, 0), r.text(row, 1), r.text(row, 2), r.text(row, 3), r.text(row, 4)});
    return all;
  }
  bool drop_draft(std::int64_t id) override { return c_.ask("DELETE FROM draft WHERE id = $1 RETURNING id", {id}).count() > 0; }

 private:
  static std::vector<std::string> texts(const Rows& r) {
    std::vector<std::string> all;
    for (int row = 0; row < r.count(); ++row) all.push_back(r.text(row, 0));
    return all;
  }
  static std::vector<Mark> marks_in(const Rows& r) {
    std::vector<Mark> all;
    for (int row = 0; row < r.count(); ++row) all.push_back({r.text(row, 0), r.text(row, 1)});
    return all;
  }
  static std::optional<std::string> first_text(const Rows& r) { return r.count() > 0 ? std::optional(r.text(0, 0)) : std::nullopt; }

  // Calls visit for every row, of which so many are fetched together, until it says false. It may ask other things meanwhile.
  void over_cursor(const std::string& sql, int together, const auto& visit) const {
    const Still still(*this);
    const std::string name = "cursor_" + std::to_string(++cursors_);
    c_.later("DECLARE " + name + " NO SCROLL CURSOR FOR " + sql);
    for (bool goes_on = true; goes_on;) {
      const Rows r = c_.ask("FETCH " + std::to_string(together) + " FROM " + name);
      for (int row = 0; goes_on && row < r.count(); ++row) goes_on = visit(r, row);
      goes_on = goes_on && r.count() == together;
    }
    c_.later("CLOSE " + name);
  }
  void each_pair(const std::string& sql, int together, const std::function<void(const std::string&, const std::string&)>& visit) const {
    over_cursor(sql, together, [&](const Rows& r, int row) {
      visit(r.text(row, 0), r.text(row, 1));
      return true;
    });
  }

  mutable Connection c_;
  mutable std::int64_t cursors_ = 0;
};

// Tables, indices, triggers and functions are held against the list that the schema gives when it is new.
Form PostgresStore::form() const {
  std::set<std::pair<std::string, std::string>> found, known;
  const Rows r = c_.ask(text_of_file(1));
  for (int row = 0; row < r.count(); ++row) found.emplace(r.text(row, 0), r.text(row, 1));
  std::istringstream lines(text_of_file(2));
  for (std::string line; std::getline(lines, line);)
    if (const auto blank = line.find('\t'); blank != std::string::npos) known.emplace(line.substr(0, blank), line.substr(blank + 1));
  std::set<std::string> strange;
  for (const auto& one : found)
    if (!known.contains(one)) strange.insert(one.first);
  for (const auto& one : known)
    if (!found.contains(one)) strange.insert(one.first);
  return {server_schema, false, false, true, {strange.begin(), strange.end()}};
}

std::vector<Store::FoundEntry> PostgresStore::entries(std::span<const std::int64_t> seqs, std::int64_t before) const {
  std::vector<FoundEntry> all;
  if (seqs.empty()) return all;
  const Rows r = c_.ask(std::string("SELECT asked.n, ") + entry_columns +
                            ", coalesce(r.by, 0) FROM unnest($1::bigint[]) WITH ORDINALITY AS asked(a, n) JOIN entry e ON e.seq = asked.a LEFT JOIN "
                            "statement st ON st.seq = e.seq LEFT JOIN replaced r ON r.seq = e.seq AND r.by < $2 WHERE e.seq < $2 ORDER BY asked.n",
                        {array_of(seqs), before});
  for (int row = 0; row < r.count(); ++row)
    all.push_back({static_cast<std::size_t>(r.number(row, 0) - 1), entry_at_row(r, row, 1), r.number(row, 1 + columns_of_entry)});
  return all;
}

std::vector<Store::FoundEntry> PostgresStore::marked(std::span<const Mark> marks, std::span<const std::string> kinds, std::int64_t before) const {
  std::vector<FoundEntry> all;
  if (marks.empty()) return all;
  const Rows r = c_.ask(std::string("SELECT asked.n, ") + entry_columns +
                            ", coalesce(r.by, 0) FROM unnest($1::text[], $2::text[]) WITH ORDINALITY AS asked(a, b, n) JOIN mark m ON m.name = asked.a "
                            "AND m.value = asked.b JOIN entry e ON e.seq = m.seq LEFT JOIN statement st ON st.seq = e.seq LEFT JOIN replaced r ON "
                            "r.seq = e.seq AND r.by < $4 WHERE m.seq < $4 AND ($3::text[] = '{}' OR e.kind = ANY($3::text[])) ORDER BY asked.n, m.seq",
                        {names_in(marks), values_in(marks), texts_in(kinds), before});
  for (int row = 0; row < r.count(); ++row)
    all.push_back({static_cast<std::size_t>(r.number(row, 0) - 1), entry_at_row(r, row, 1), r.number(row, 1 + columns_of_entry)});
  return all;
}

}  // namespace

std::unique_ptr<Store> open_postgres(const std::string& where, Access access) { return std::make_unique<PostgresStore>(where, access); }

bool is_postgres(const std::string& where) { return where.starts_with(server_prefix); }

void remove_postgres(const std::string& where) {
  Connection c(service_of(where), false);
  std::string script = "BEGIN;";
  const char* const only_grow[] = {"book", "entry", "statement", "attachment"};
  for (const char* table : only_grow) script.append("ALTER TABLE ").append(table).append(" DISABLE TRIGGER USER;");
  script += "TRUNCATE book, entry, statement, attachment, person, mark, carried, replaced, sealed_key, personal, draft;";
  for (const char* table : only_grow) script.append("ALTER TABLE ").append(table).append(" ENABLE TRIGGER USER;");
  c.run(script + "COMMIT;");
}

}  // namespace seamwright::book
