// SPDX-License-Identifier: GPL-3.0-or-later
// A connection to an SQLite file and its statements, every failure a Fault.
#pragma once

#include <sqlite3.h>

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace seamwright::book {

/// Rows of values that one statement is given at most.
inline constexpr int most_asked = 256;

class Database {
 public:
  /// create_empty: a file without tables, to copy another into.
  enum class Mode { create, create_empty, write, read };
  /// Opens with the settings of a record: WAL, full synchronous, foreign keys; defensive against files of
  /// unknown origin. New files are for their owner alone. Throws Fault "book.exists", "book.missing",
  /// "book.not-a-book", "book.newer", "book.sql".
  Database(const std::string& path, Mode mode);
  /// Closes the file; nothing may be asked of it then.
  void close();
  void run(const char* sql);
  sqlite3* handle() const { return handle_.get(); }
  int schema() const { return schema_; }  ///< of the file
  /// Adds, within a transaction, the tables that a file of an older schema lacks; true when what follows from its entries is to be derived.
  bool add_tables();
  /// Takes, within a transaction, the tables that follow from the entries away and makes them anew, empty.
  void make_derived_tables();
  bool has(const char* table) const;
  /// Objects that strange_objects() found in the file when it was opened or last made anew.
  const std::vector<std::string>& strange() const { return strange_; }

 private:
  friend class Statement;
  void open(const std::string& path);
  void set_newest();
  struct Close {
    void operator()(sqlite3* db) const { sqlite3_close_v2(db); }
  };
  struct Finish {
    void operator()(sqlite3_stmt* s) const { sqlite3_finalize(s); }
  };
  using Prepared = std::unique_ptr<sqlite3_stmt, Finish>;
  std::unique_ptr<sqlite3, Close> handle_;
  Mode mode_ = Mode::read;
  int schema_ = 0;
  std::vector<std::string> strange_;
  mutable std::map<std::string, std::vector<Prepared>, std::less<>> idle_;  // prepared once, used again
};

class Statement {
 public:
  Statement(const Database& db, const std::string& sql);
  ~Statement();
  Statement(const Statement&) = delete;
  Statement& operator=(const Statement&) = delete;
  Statement& bind(int place, const std::string& text);
  Statement& bind(int place, std::int64_t number);
  Statement& bind_bytes(int place, const std::string& bytes);
  /// True with a row; false when done. Throws Fault "book.sql", "book.full", "book.busy", "book.read-only".
  bool step();
  std::string text(int column) const;
  std::int64_t number(int column) const;
  void reset();

 private:
  const Database& db_;
  std::string sql_;
  Database::Prepared statement_;
};

}  // namespace seamwright::book
