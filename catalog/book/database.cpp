// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/database.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <filesystem>

#include "engine/evidence/evidence.h"

namespace seamwright::book {

namespace {

constexpr int application = 0x53574231;  // "SWB1"
constexpr int schema = 1;

constexpr const char* tables = R"(
CREATE TABLE book(id TEXT NOT NULL PRIMARY KEY) STRICT;
CREATE TABLE entry(seq INTEGER PRIMARY KEY, time TEXT NOT NULL, author TEXT NOT NULL, kind TEXT NOT NULL, payload TEXT NOT NULL,
  prev TEXT NOT NULL, hash TEXT NOT NULL UNIQUE, signature TEXT NOT NULL) STRICT;
CREATE TABLE person(id TEXT NOT NULL PRIMARY KEY, stamp TEXT NOT NULL, role TEXT NOT NULL, public_key TEXT NOT NULL,
  since INTEGER NOT NULL, revoked INTEGER NOT NULL) STRICT;
CREATE TABLE sealed_key(person TEXT NOT NULL PRIMARY KEY, sealed TEXT NOT NULL) STRICT;
)";

[[noreturn]] void fail(sqlite3* db, int code) {
  const char* id = code == SQLITE_FULL                               ? "book.full"
                   : code == SQLITE_BUSY || code == SQLITE_LOCKED    ? "book.busy"
                   : code == SQLITE_READONLY || code == SQLITE_PERM  ? "book.read-only"
                   : code == SQLITE_NOTADB || code == SQLITE_CORRUPT ? "book.not-a-book"
                                                                     : "book.sql";
  throw Fault{Message{id, {text("why", db ? sqlite3_errmsg(db) : sqlite3_errstr(code))}}};
}

std::int64_t pragma(const Database& db, const char* name) {
  Statement s(db, std::string("PRAGMA ") + name);
  return s.step() ? s.number(0) : 0;
}

// An empty file for its owner alone, which nobody else had made before.
void make_file(const std::string& path) {
  const int fd = ::open(path.c_str(), O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC | O_NOFOLLOW, 0600);
  if (fd < 0)
    throw Fault{Message{std::filesystem::exists(path) ? "book.exists" : "book.read-only",
                        {text("file", path), text("why", path)}}};
  ::close(fd);
}

}  // namespace

Database::Database(const std::string& path, Mode mode) {
  if (mode == Mode::create)
    make_file(path);
  else if (!std::filesystem::is_regular_file(path))
    throw Fault{Message{"book.missing", {text("file", path)}}};
  sqlite3* raw = nullptr;
  const int flags = (mode == Mode::read ? SQLITE_OPEN_READONLY : SQLITE_OPEN_READWRITE) |
                    SQLITE_OPEN_NOFOLLOW | SQLITE_OPEN_EXRESCODE;
  const int opened = sqlite3_open_v2(std::filesystem::canonical(path).c_str(), &raw, flags, nullptr);
  handle_.reset(raw);
  if (opened != SQLITE_OK) fail(raw, opened & 0xff);
  sqlite3_busy_timeout(raw, 10000);
  sqlite3_db_config(raw, SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
  sqlite3_db_config(raw, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, nullptr);
  sqlite3_db_config(raw, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, nullptr);
  sqlite3_db_config(raw, SQLITE_DBCONFIG_ENABLE_VIEW, 0, nullptr);
  run("PRAGMA cell_size_check = ON; PRAGMA mmap_size = 0; PRAGMA foreign_keys = ON; PRAGMA synchronous = "
      "FULL");
  if (mode == Mode::create) {
    run("PRAGMA journal_mode = WAL");
    run(std::string("BEGIN IMMEDIATE; PRAGMA application_id = ") + std::to_string(application) +
        "; PRAGMA user_version = " + std::to_string(schema) + ";" + tables + "COMMIT");
    return;
  }
  if (pragma(*this, "application_id") != application)
    throw Fault{Message{"book.not-a-book", {text("why", path)}}};
  if (pragma(*this, "user_version") > schema && mode == Mode::write)
    throw Fault{Message{"book.newer", {text("file", path)}}};
}

void Database::run(const std::string& sql) {
  const int code = sqlite3_exec(handle_.get(), sql.c_str(), nullptr, nullptr, nullptr);
  if (code != SQLITE_OK) fail(handle_.get(), code & 0xff);
}

Statement::Statement(const Database& db, const std::string& sql) : db_(db.handle()) {
  sqlite3_stmt* raw = nullptr;
  const int code = sqlite3_prepare_v2(db_, sql.c_str(), static_cast<int>(sql.size()), &raw, nullptr);
  statement_.reset(raw);
  if (code != SQLITE_OK) fail(db_, code & 0xff);
}

Statement& Statement::bind(int place, const std::string& text) {
  const int code =
      sqlite3_bind_text64(statement_.get(), place, text.data(), text.size(), SQLITE_TRANSIENT, SQLITE_UTF8);
  if (code != SQLITE_OK) fail(db_, code & 0xff);
  return *this;
}

Statement& Statement::bind(int place, std::int64_t number) {
  const int code = sqlite3_bind_int64(statement_.get(), place, number);
  if (code != SQLITE_OK) fail(db_, code & 0xff);
  return *this;
}

bool Statement::step() {
  const int code = sqlite3_step(statement_.get());
  if (code == SQLITE_ROW) return true;
  if (code == SQLITE_DONE) return false;
  fail(db_, code & 0xff);
}

std::string Statement::text(int column) const {
  const auto* data = sqlite3_column_text(statement_.get(), column);
  const int size = sqlite3_column_bytes(statement_.get(), column);
  return data ? std::string(reinterpret_cast<const char*>(data), static_cast<std::size_t>(size))
              : std::string();
}

std::int64_t Statement::number(int column) const { return sqlite3_column_int64(statement_.get(), column); }

void Statement::reset() { sqlite3_reset(statement_.get()); }

Transaction::Transaction(Database& db) : db_(db) { db_.run("BEGIN IMMEDIATE"); }

Transaction::~Transaction() {
  if (open_) sqlite3_exec(db_.handle(), "ROLLBACK", nullptr, nullptr, nullptr);
}

void Transaction::commit() {
  db_.run("COMMIT");
  open_ = false;
}

}  // namespace seamwright::book
