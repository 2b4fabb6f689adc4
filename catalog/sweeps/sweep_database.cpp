// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/sweeps/sweep_database.h"

#include <sqlite3.h>

#include <charconv>
#include <filesystem>
#include <memory>
#include <set>
#include <stdexcept>

#include "catalog/files/source.h"
#include "catalog/sweeps/table_lines.h"

namespace seamwright::sweeps {

namespace {

struct Close {
  void operator()(sqlite3* db) const { sqlite3_close_v2(db); }
  void operator()(sqlite3_stmt* s) const { sqlite3_finalize(s); }
};

[[noreturn]] void refuse(const std::string& path, sqlite3* db) {
  throw std::runtime_error("cannot write " + path + ": " + (db ? sqlite3_errmsg(db) : "no memory"));
}

// Columns are the same to SQLite whatever the size of their letters.
std::string lowered(std::string name) {
  for (char& c : name)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return name;
}

std::vector<std::string> distinct(std::vector<std::string> names) {
  std::set<std::string> taken;
  for (std::string& name : names)
    while (!taken.insert(lowered(name)).second) name += "'";
  return names;
}

// Texts are duty, verdict, weld, site and fault; what stands before the duty are values of parameters.
const char* type_of(const std::string& name, bool parameter) {
  if (name == "variant") return "INTEGER PRIMARY KEY";
  static const std::set<std::string> numbers{"damage", "life_km", "failure_probability", "mass_kg"};
  return parameter || numbers.contains(name) ? "REAL" : "TEXT";
}

std::string quoted(const std::string& name) {
  std::string out("\"");
  for (const char c : name) out.append(c == '"' ? 2 : 1, c);
  return out + "\"";
}

class Variants {
 public:
  Variants(std::string path, const std::vector<std::string>& head) : path_(std::move(path)) {
    sqlite3* db = nullptr;
    const int opened = sqlite3_open_v2(path_.c_str(), &db, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, nullptr);
    db_.reset(db);
    if (opened != SQLITE_OK) refuse(path_, db);
    std::string columns, marks;
    bool parameter = true;
    const std::vector<std::string> names = distinct(head);
    for (std::size_t i = 0; i < head.size(); ++i) {
      parameter = parameter && head[i] != "duty";
      types_.push_back(type_of(head[i], parameter));
      columns.append(i > 0 ? "," : "").append(quoted(names[i])).append(" ").append(types_.back());
      marks.append(i > 0 ? ",?" : "?");
    }
    run("BEGIN");
    run(("CREATE TABLE variants (" + columns + ")").c_str());
    sqlite3_stmt* row = nullptr;
    if (sqlite3_prepare_v2(db, ("INSERT INTO variants VALUES (" + marks + ")").c_str(), -1, &row, nullptr) != SQLITE_OK)
      refuse(path_, db);
    row_.reset(row);
  }

  void add(const std::vector<std::string>& cells) {
    sqlite3_stmt* const row = row_.get();
    sqlite3_reset(row);
    sqlite3_clear_bindings(row);
    for (std::size_t i = 0; i < cells.size() && i < types_.size(); ++i) bind(row, static_cast<int>(i) + 1, cells[i], types_[i]);
    if (sqlite3_step(row) != SQLITE_DONE) refuse(path_, db_.get());
  }

  void finish() {
    row_.reset();
    run("COMMIT");
  }

 private:
  static void bind(sqlite3_stmt* row, int place, const std::string& cell, std::string_view type) {
    if (cell.empty()) return;  // NULL
    double value = 0;
    const auto read = std::from_chars(cell.data(), cell.data() + cell.size(), value);
    if (type == "TEXT" || read.ptr != cell.data() + cell.size())
      sqlite3_bind_text(row, place, cell.data(), static_cast<int>(cell.size()), SQLITE_TRANSIENT);
    else if (type == "REAL")
      sqlite3_bind_double(row, place, value);
    else
      sqlite3_bind_int64(row, place, static_cast<sqlite3_int64>(value));
  }
  void run(const char* sql) {
    if (sqlite3_exec(db_.get(), sql, nullptr, nullptr, nullptr) != SQLITE_OK) refuse(path_, db_.get());
  }

  std::string path_;
  std::unique_ptr<sqlite3, Close> db_;
  std::unique_ptr<sqlite3_stmt, Close> row_;
  std::vector<std::string> types_;
};

}  // namespace

std::string database_of(const std::string& csv) {
  return (csv.ends_with(".csv") ? csv.substr(0, csv.size() - 4) : csv) + ".sqlite";
}

// A record book may have the same name.
void check_place(const std::string& csv) {
  const std::string path = database_of(csv);
  std::error_code none;
  if (!std::filesystem::exists(path, none)) return;
  sqlite3* opened = nullptr;
  const bool readable = sqlite3_open_v2(path.c_str(), &opened, SQLITE_OPEN_READONLY, nullptr) == SQLITE_OK;
  const std::unique_ptr<sqlite3, Close> db(opened);
  sqlite3_stmt* asked = nullptr;
  const char* const other = "SELECT count(*) FROM sqlite_master WHERE name <> 'variants'";
  const bool known = readable && sqlite3_prepare_v2(opened, other, -1, &asked, nullptr) == SQLITE_OK;
  const std::unique_ptr<sqlite3_stmt, Close> count(asked);
  if (!known || sqlite3_step(asked) != SQLITE_ROW || sqlite3_column_int(asked, 0) != 0)
    throw std::runtime_error(path + " is no table of variants and would be replaced: name another table");
}

void write_database(const std::string& csv) {
  check_place(csv);
  const std::string path = database_of(csv), part = path + ".new";
  const auto table = files::files_on_disk().stream(csv);
  std::string line;
  std::getline(*table, line);
  std::error_code ignored;
  std::filesystem::remove(part, ignored);
  try {
    Variants variants(part, cells_of(line));
    while (std::getline(*table, line)) variants.add(cells_of(line));
    variants.finish();
  } catch (...) {
    std::filesystem::remove(part, ignored);
    throw;
  }
  std::error_code failed;
  std::filesystem::rename(part, path, failed);
  if (failed) throw std::runtime_error("cannot write " + path);
}

}  // namespace seamwright::sweeps
