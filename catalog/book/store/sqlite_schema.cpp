// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/store/sqlite_schema.h"

#include <sqlite3.h>

#include <algorithm>
#include <map>
#include <memory>
#include <set>
#include <tuple>

#include "engine/evidence/evidence.h"

namespace seamwright::book {

namespace {

// The file keeps the text of a table as it stands here, and it is compared: who changes a blank writes
// another schema.
struct Object {
  const char* name;
  int since;
  bool derived;  ///< follows from the entries
  const char* sql;
};
constexpr Object objects[] = {
    {"book", 1, false, "CREATE TABLE book(id TEXT NOT NULL PRIMARY KEY) STRICT"},
    {"entry", 1, false,
     "CREATE TABLE entry(seq INTEGER PRIMARY KEY, time TEXT NOT NULL, author TEXT NOT NULL, kind TEXT NOT "
     "NULL, "
     "payload TEXT NOT NULL,\n  prev TEXT NOT NULL, hash TEXT NOT NULL UNIQUE, signature TEXT NOT NULL) "
     "STRICT"},
    {"statement", 3, false,
     "CREATE TABLE statement(seq INTEGER PRIMARY KEY REFERENCES entry, seen TEXT NOT NULL, links TEXT NOT NULL) STRICT"},
    {"person", 1, true,
     "CREATE TABLE person(id TEXT NOT NULL PRIMARY KEY, stamp TEXT NOT NULL, role TEXT NOT NULL, public_key "
     "TEXT "
     "NOT NULL,\n  since INTEGER NOT NULL, revoked INTEGER NOT NULL) STRICT"},
    {"sealed_key", 1, false,
     "CREATE TABLE sealed_key(person TEXT NOT NULL PRIMARY KEY, sealed TEXT NOT NULL) STRICT"},
    {"attachment", 2, false,
     "CREATE TABLE attachment(sha256 TEXT NOT NULL PRIMARY KEY, bytes BLOB NOT NULL) STRICT"},
    {"personal", 2, false,
     "CREATE TABLE personal(person TEXT NOT NULL PRIMARY KEY, salt TEXT NOT NULL, details TEXT NOT NULL) "
     "STRICT"},
    {"draft", 2, false,
     "CREATE TABLE draft(id INTEGER PRIMARY KEY, person TEXT NOT NULL, time TEXT NOT NULL, kind TEXT NOT "
     "NULL, "
     "payload TEXT NOT NULL) STRICT"},
    {"mark", 2, true,
     "CREATE TABLE mark(name TEXT NOT NULL, value TEXT NOT NULL, seq INTEGER NOT NULL REFERENCES entry, "
     "PRIMARY "
     "KEY(name, value, seq))\n  STRICT, WITHOUT ROWID"},
    {"carried", 2, true,
     "CREATE TABLE carried(name TEXT NOT NULL, value TEXT NOT NULL, frame TEXT NOT NULL, PRIMARY KEY(name, "
     "value, "
     "frame))\n  STRICT, WITHOUT ROWID"},
    {"carried_frame", 2, true, "CREATE INDEX carried_frame ON carried(frame)"},
    {"replaced", 2, true,
     "CREATE TABLE replaced(seq INTEGER PRIMARY KEY REFERENCES entry, by INTEGER NOT NULL REFERENCES entry) "
     "STRICT"},
};

struct Close {
  void operator()(sqlite3* db) const { sqlite3_close(db); }
  void operator()(sqlite3_stmt* s) const { sqlite3_finalize(s); }
};

// Kind, name, table, text; indices that a key makes by itself have no text.
using Row = std::tuple<std::string, std::string, std::string, std::string>;

std::set<Row> rows_of(sqlite3* db) {
  sqlite3_stmt* raw = nullptr;
  const int code = sqlite3_prepare_v2(db, "SELECT type, name, tbl_name, coalesce(sql, '') FROM sqlite_schema",
                                      -1, &raw, nullptr);
  const std::unique_ptr<sqlite3_stmt, Close> statement(raw);
  if (code != SQLITE_OK)
    throw Fault{Message{"book.sql", {text("why", sqlite3_errmsg(db))}}, Category::machine};
  std::set<Row> rows;
  const auto column_text = [&](int column) {
    const void* data = sqlite3_column_blob(raw, column);
    return data ? std::string(static_cast<const char*>(data),
                              static_cast<std::size_t>(sqlite3_column_bytes(raw, column)))
                : std::string();
  };
  while (sqlite3_step(raw) == SQLITE_ROW)
    rows.emplace(column_text(0), column_text(1), column_text(2), column_text(3));
  return rows;
}

// SQLite itself keeps these rows of the tables that a version has.
std::set<Row> written(int version) {
  sqlite3* raw = nullptr;
  const int opened = sqlite3_open(":memory:", &raw);
  const std::unique_ptr<sqlite3, Close> db(raw);
  if (opened != SQLITE_OK ||
      sqlite3_exec(raw, tables_of(1, version).c_str(), nullptr, nullptr, nullptr) != SQLITE_OK)
    throw Fault{Message{"book.sql", {text("why", sqlite3_errmsg(raw))}}, Category::machine};
  return rows_of(raw);
}

}  // namespace

std::string tables_of(int from, int to) {
  std::string sql;
  for (const Object& o : objects)
    if (o.since >= from && o.since <= to) sql.append(o.sql).append(";\n");
  return sql;
}

std::string derived_tables_anew() {
  std::string away, anew;
  for (const Object& o : objects) {
    if (!o.derived) continue;
    const bool index = std::string(o.sql).starts_with("CREATE INDEX");
    if (!index) away.append("DROP TABLE IF EXISTS ").append(o.name).append(";\n");
    anew.append(o.sql).append(";\n");
  }
  return away + anew;
}

std::vector<std::string> strange_objects(sqlite3* db, int version) {
  static const std::map<int, std::set<Row>> known = [] {
    std::map<int, std::set<Row>> all;
    for (int v = 1; v <= newest_schema; ++v) all[v] = written(v);
    return all;
  }();
  const std::set<Row> found = rows_of(db);
  const std::set<Row>& asked = known.at(std::clamp(version, 1, newest_schema));
  std::set<std::string> strange;
  for (const Row& row : asked)
    if (!found.contains(row)) strange.insert(std::get<1>(row));
  const bool newer = version > newest_schema;
  for (const Row& row : found) {
    const bool of_known = std::any_of(asked.begin(), asked.end(),
                                      [&](const Row& a) { return std::get<2>(a) == std::get<2>(row); });
    // Tables that a newer schema adds may be there, but no trigger, view or index on what is known.
    if (!asked.contains(row) &&
        (!newer || of_known || std::get<0>(row) == "trigger" || std::get<0>(row) == "view"))
      strange.insert(std::get<1>(row));
  }
  if (version < 1) strange.insert("user_version");
  return {strange.begin(), strange.end()};
}

}  // namespace seamwright::book
