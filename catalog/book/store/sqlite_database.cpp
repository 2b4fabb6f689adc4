// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/book/store/sqlite_database.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <filesystem>

#include "catalog/book/store/network_drive.h"
#include "catalog/book/store/sqlite_schema.h"
#include "catalog/book/store/sqlite_store.h"
#include "engine/evidence/evidence.h"

namespace seamwright::book {

namespace {

constexpr int application = 0x53574231;  // "SWB1"

[[noreturn]] void fail(sqlite3* db, int code) {
  const auto because = [&](MessageId id, Category whose) {
    return Fault{Message{id, {text("why", db ? sqlite3_errmsg(db) : sqlite3_errstr(code)), text("file", db && sqlite3_db_filename(db, "main") ? sqlite3_db_filename(db, "main") : "")}}, whose};
  };
  switch (code) {
    case SQLITE_FULL:
      throw because("book.full", Category::machine);
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      throw because("book.busy", Category::locked);
    case SQLITE_READONLY:
    case SQLITE_PERM:
      throw because("book.read-only", Category::machine);
    case SQLITE_NOTADB:
    case SQLITE_CORRUPT:
      throw because("book.not-a-book", Category::input);
    default:
      throw because("book.sql", Category::machine);
  }
}

std::int64_t pragma(const Database& db, const char* name) {
  Statement s(db, name);
  return s.step() ? s.number(0) : 0;
}

// A folder that cannot be written lets no log be made beside the book; without one the file is read as it
// stands.
bool alone_in_closed_folder(const std::string& path) {
  std::error_code ignored;
  return ::access(std::filesystem::path(path).parent_path().c_str(), W_OK) != 0 &&
         !std::filesystem::exists(path + "-wal", ignored);
}

std::string escaped(const std::string& path) {
  std::string out;
  for (const char c : path) {
    if (c == '%' || c == '?' || c == '#')
      out += c == '%' ? "%25" : c == '?' ? "%3f" : "%23";
    else
      out += c;
  }
  return out;
}

// Bounds of what a record needs, with a margin: a file of unknown origin asks for no more.
void limit(sqlite3* db) {
  sqlite3_limit(db, SQLITE_LIMIT_LENGTH, 64 << 20);
  sqlite3_limit(db, SQLITE_LIMIT_SQL_LENGTH, 100000);
  sqlite3_limit(db, SQLITE_LIMIT_COLUMN, 100);
  sqlite3_limit(db, SQLITE_LIMIT_EXPR_DEPTH, 20);
  sqlite3_limit(db, SQLITE_LIMIT_COMPOUND_SELECT, 3);
  sqlite3_limit(db, SQLITE_LIMIT_VDBE_OP, 25000);
  sqlite3_limit(db, SQLITE_LIMIT_FUNCTION_ARG, 8);
  sqlite3_limit(db, SQLITE_LIMIT_ATTACHED, 0);
  sqlite3_limit(db, SQLITE_LIMIT_LIKE_PATTERN_LENGTH, 50);
  sqlite3_limit(db, SQLITE_LIMIT_VARIABLE_NUMBER, 2 * most_asked + 2);
  sqlite3_limit(db, SQLITE_LIMIT_TRIGGER_DEPTH, 10);
}

// An empty file for its owner alone, which nobody else had made before.
void make_file(const std::string& path) {
  const int fd = ::open(path.c_str(), O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC | O_NOFOLLOW, 0600);
  if (fd < 0)
    throw std::filesystem::exists(path)
        ? Fault{Message{"book.exists", {text("file", path), text("why", path)}}}
        : Fault{Message{"book.read-only", {text("file", path), text("why", path)}}, Category::machine};
  ::close(fd);
}

// Every writer of a busy book gets its turn: SQLite's own waiting sleeps ever longer, so that others who
// write without a pause may keep it out for good. Gives up after some ten seconds.
int await_turn(void*, int tries) {
  constexpr int most = 5000;
  if (tries >= most) return 0;
  sqlite3_sleep(2);
  return 1;
}

}  // namespace

Database::Database(const std::string& path, Mode mode) : mode_(mode) {
  const bool fresh = mode == Mode::create || mode == Mode::create_empty;
  if (mode != Mode::read)
    if (const std::string drive = network_drive_of(path); !drive.empty())
      throw Fault{Message{"book.network-drive", {text("file", path), text("found", drive)}}, Category::machine};
  if (fresh)
    make_file(path);
  else if (!std::filesystem::is_regular_file(path))
    throw Fault{Message{"book.missing", {text("file", path)}}};
  try {
    open(path);
  } catch (const Fault&) {
    handle_.reset();
    if (fresh) remove_sqlite(path);
    throw;
  }
}

void Database::open(const std::string& path) {
  const Mode mode = mode_;
  sqlite3* raw = nullptr;
  const std::string where = std::filesystem::canonical(path).string();
  const int flags = (mode == Mode::read ? SQLITE_OPEN_READONLY : SQLITE_OPEN_READWRITE) |
                    SQLITE_OPEN_NOFOLLOW | SQLITE_OPEN_EXRESCODE;
  const int opened = mode == Mode::read && alone_in_closed_folder(where)
                         ? sqlite3_open_v2(("file:" + escaped(where) + "?immutable=1").c_str(), &raw,
                                           flags | SQLITE_OPEN_URI, nullptr)
                         : sqlite3_open_v2(where.c_str(), &raw, flags, nullptr);
  handle_.reset(raw);
  if (opened != SQLITE_OK) fail(raw, opened & 0xff);
  sqlite3_busy_handler(raw, await_turn, nullptr);
  sqlite3_db_config(raw, SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
  sqlite3_db_config(raw, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, nullptr);
  sqlite3_db_config(raw, SQLITE_DBCONFIG_ENABLE_TRIGGER, 0, nullptr);
  sqlite3_db_config(raw, SQLITE_DBCONFIG_ENABLE_VIEW, 0, nullptr);
  limit(raw);
  run("PRAGMA cell_size_check = ON; PRAGMA mmap_size = 0; PRAGMA foreign_keys = ON; PRAGMA synchronous = "
      "FULL; PRAGMA secure_delete = ON");
  if (mode == Mode::create_empty) return;
  if (mode == Mode::create) {
    run("PRAGMA journal_mode = WAL");
    run((std::string("BEGIN IMMEDIATE; PRAGMA application_id = ") + std::to_string(application) +
         "; PRAGMA user_version = " + std::to_string(newest_schema) + ";" + tables_of(1, newest_schema) +
         "COMMIT")
            .c_str());
    schema_ = newest_schema;
    return;
  }
  if (pragma(*this, "PRAGMA application_id") != application)
    throw Fault{Message{"book.not-a-book", {text("file", path)}}};
  schema_ = static_cast<int>(pragma(*this, "PRAGMA user_version"));
  if (schema_ > newest_schema && mode == Mode::write)
    throw Fault{Message{"book.newer", {text("file", path)}}};
  strange_ = strange_objects(raw, schema_);
}

void Database::close() {
  idle_.clear();
  handle_.reset();
}

bool Database::has(const char* table) const {
  Statement s(*this, "SELECT 1 FROM sqlite_schema WHERE type = 'table' AND name = ?1");
  s.bind(1, table);
  return s.step();
}

void Database::set_newest() {
  run((std::string("PRAGMA user_version = ") + std::to_string(newest_schema)).c_str());
  schema_ = newest_schema;
}

bool Database::add_tables() {
  if (schema_ >= newest_schema) return false;
  const bool underived = schema_ == 1;
  run(tables_of(schema_ + 1, newest_schema).c_str());
  set_newest();
  return underived;
}

void Database::make_derived_tables() {
  run(derived_tables_anew().c_str());
  set_newest();
  strange_ = strange_objects(handle_.get(), schema_);
}

void Database::run(const char* sql) {
  const int code = sqlite3_exec(handle_.get(), sql, nullptr, nullptr, nullptr);
  if (code != SQLITE_OK) fail(handle_.get(), code & 0xff);
}

Statement::Statement(const Database& db, const std::string& sql) : db_(db), sql_(sql) {
  const auto idle = db.idle_.find(sql_);
  if (idle != db.idle_.end() && !idle->second.empty()) {
    statement_ = std::move(idle->second.back());
    idle->second.pop_back();
    return;
  }
  sqlite3_stmt* raw = nullptr;
  const int code =
      sqlite3_prepare_v3(db_.handle(), sql.c_str(), -1, SQLITE_PREPARE_PERSISTENT, &raw, nullptr);
  statement_.reset(raw);
  if (code != SQLITE_OK) fail(db_.handle(), code & 0xff);
}

Statement::~Statement() {
  sqlite3_reset(statement_.get());
  sqlite3_clear_bindings(statement_.get());
  try {
    db_.idle_[sql_].push_back(std::move(statement_));
  } catch (const std::bad_alloc&) {  // then it is finished instead
  }
}

Statement& Statement::bind(int place, const std::string& text) {
  const int code =
      sqlite3_bind_text64(statement_.get(), place, text.data(), text.size(), SQLITE_TRANSIENT, SQLITE_UTF8);
  if (code != SQLITE_OK) fail(db_.handle(), code & 0xff);
  return *this;
}

Statement& Statement::bind(int place, std::int64_t number) {
  const int code = sqlite3_bind_int64(statement_.get(), place, number);
  if (code != SQLITE_OK) fail(db_.handle(), code & 0xff);
  return *this;
}

Statement& Statement::bind_bytes(int place, const std::string& bytes) {
  const int code = sqlite3_bind_blob64(statement_.get(), place, bytes.data(), bytes.size(), SQLITE_TRANSIENT);
  if (code != SQLITE_OK) fail(db_.handle(), code & 0xff);
  return *this;
}

bool Statement::step() {
  const int code = sqlite3_step(statement_.get());
  if (code == SQLITE_ROW) return true;
  if (code == SQLITE_DONE) return false;
  fail(db_.handle(), code & 0xff);
}

std::string Statement::text(int column) const {
  const void* data = sqlite3_column_blob(statement_.get(), column);  // of a text: its bytes
  const int size = sqlite3_column_bytes(statement_.get(), column);
  return data ? std::string(static_cast<const char*>(data), static_cast<std::size_t>(size)) : std::string();
}

std::int64_t Statement::number(int column) const { return sqlite3_column_int64(statement_.get(), column); }

void Statement::reset() { sqlite3_reset(statement_.get()); }

}  // namespace seamwright::book
