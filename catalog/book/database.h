// SPDX-License-Identifier: GPL-3.0-or-later
// The one place that knows SQL: a connection and its statements, every failure a Fault.
#pragma once

#include <sqlite3.h>

#include <memory>
#include <optional>
#include <string>

namespace seamwright::book {

class Database {
 public:
  enum class Mode { create, write, read };
  /// Opens with the settings of a record: WAL, full synchronous, foreign keys; defensive against files of
  /// unknown origin. New files are for their owner alone. Throws Fault "book.exists", "book.missing",
  /// "book.not-a-book", "book.newer", "book.sql".
  Database(const std::string& path, Mode mode);
  void run(const std::string& sql);
  sqlite3* handle() const { return handle_.get(); }

 private:
  struct Close {
    void operator()(sqlite3* db) const { sqlite3_close_v2(db); }
  };
  std::unique_ptr<sqlite3, Close> handle_;
};

class Statement {
 public:
  Statement(const Database& db, const std::string& sql);
  Statement& bind(int place, const std::string& text);
  Statement& bind(int place, std::int64_t number);
  /// True with a row; false when done. Throws Fault "book.sql", "book.full", "book.busy", "book.read-only".
  bool step();
  std::string text(int column) const;
  std::int64_t number(int column) const;
  void reset();

 private:
  struct Finish {
    void operator()(sqlite3_stmt* s) const { sqlite3_finalize(s); }
  };
  std::unique_ptr<sqlite3_stmt, Finish> statement_;
  sqlite3* db_;
};

/// All or nothing: rolled back unless committed. Waits its turn for the write lock.
class Transaction {
 public:
  explicit Transaction(Database& db);
  ~Transaction();
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;
  void commit();

 private:
  Database& db_;
  bool open_ = true;
};

}  // namespace seamwright::book
