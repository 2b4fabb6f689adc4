// SPDX-License-Identifier: GPL-3.0-or-later
// Parts of a table of variants become the table, and the table a database.
#include "catalog/sweeps/sweep_join.h"

#include <fmt/format.h>
#include <sqlite3.h>
#include <sys/resource.h>

#include <stdexcept>

#include "catalog/sweeps/sweep_database.h"
#include "catalog/sweeps/table_lines.h"
#include "engine/evidence/evidence.h"
#include "tests/catalog/files/folder.h"

using namespace seamwright;
using namespace seamwright::sweeps;

namespace {

const std::string head = "variant,tube[a].wall_mm,duty,verdict,governing_weld,site,damage,life_km,failure_probability,mass_kg,fault\n";

std::string row(std::size_t number) { return fmt::format("{},2.5,duty.toml,meets,W1,root@0,0.5,{},1e-05,9,\n", number, 100 * number); }

std::string fault_of(const std::vector<std::string>& parts, const std::string& csv) {
  try {
    join_parts(parts, csv);
  } catch (const Fault& fault) {
    return fault.message.id.text();
  }
  return "";
}

// The first column of the first row of an answer.
std::string asked(const std::string& path, const char* sql) {
  sqlite3* db = nullptr;
  REQUIRE(sqlite3_open_v2(path.c_str(), &db, SQLITE_OPEN_READONLY, nullptr) == SQLITE_OK);
  sqlite3_stmt* s = nullptr;
  REQUIRE(sqlite3_prepare_v2(db, sql, -1, &s, nullptr) == SQLITE_OK);
  REQUIRE(sqlite3_step(s) == SQLITE_ROW);
  const auto* text = reinterpret_cast<const char*>(sqlite3_column_text(s, 0));
  std::string answer = text ? text : "NULL";
  sqlite3_finalize(s);
  sqlite3_close(db);
  return answer;
}

}  // namespace

TEST_CASE("more parts than a process may hold open become one table") {
  const Folder folder;
  rlimit before{};
  REQUIRE(::getrlimit(RLIMIT_NOFILE, &before) == 0);
  rlimit few = before;
  few.rlim_cur = 32;
  REQUIRE(::setrlimit(RLIMIT_NOFILE, &few) == 0);
  constexpr std::size_t count = 100, rows = 3000;
  std::vector<std::string> parts;
  std::string whole = head;
  for (std::size_t k = 0; k < count; ++k) {
    std::string part = head;
    for (std::size_t i = k; i < rows; i += count) part += row(i + 1);
    parts.push_back(folder.write(fmt::format("{}.csv", k), part));
  }
  for (std::size_t i = 0; i < rows; ++i) whole += row(i + 1);
  const std::string csv = (folder.path / "all.csv").string();
  CHECK(join_parts(parts, csv) == rows);
  CHECK(files::read_text(csv) == whole);
  REQUIRE(::setrlimit(RLIMIT_NOFILE, &before) == 0);
}

TEST_CASE("rows longer than a piece that is read at once stay whole") {
  const Folder folder;
  const std::string fault(200000, 'x');
  const std::string one = folder.write("1.csv", head + "1,2,d,impossible,,,,,,," + fault + "\n3,2,d,meets,,,,,,,\n"),
                    two = folder.write("2.csv", head + "2,2,d,impossible,,,,,,," + fault + "\n");
  const std::string csv = (folder.path / "all.csv").string();
  CHECK(join_parts({one, two}, csv) == 3);
  CHECK(files::read_text(csv) == head + "1,2,d,impossible,,,,,,," + fault + "\n2,2,d,impossible,,,,,,," + fault + "\n3,2,d,meets,,,,,,,\n");
}

TEST_CASE("parts that are no whole are refused, and a table that is there stays") {
  const Folder folder;
  const std::string csv = folder.write("all.csv", "here before\n");
  const std::string odd = folder.write("odd.csv", head + row(1) + row(3)), even = folder.write("even.csv", head + row(2));
  CHECK(fault_of({odd}, csv) == "sweep.gap");
  CHECK(fault_of({even}, csv) == "sweep.gap");
  CHECK(fault_of({odd, even, even}, csv) == "sweep.twice");
  CHECK(fault_of({odd, folder.write("other.csv", "variant,x\n" + row(2))}, csv) == "sweep.other-table");
  CHECK(fault_of({odd, folder.write("none.csv", head + "two,3\n")}, csv) == "sweep.twice");
  CHECK(fault_of({folder.write("back.csv", head + row(2) + row(1))}, csv) == "sweep.twice");
  CHECK(fault_of({odd, (folder.path / "missing.csv").string()}, csv) == "file.missing");
  CHECK(files::read_text(csv) == "here before\n");
  for (const auto& entry : std::filesystem::directory_iterator(folder.path))
    CHECK(entry.path().extension() == ".csv");
  CHECK_THROWS_AS(join_parts({odd, even}, (folder.path / "no/folder.csv").string()), std::runtime_error);
  CHECK(join_parts({even, odd}, csv) == 3);
}

TEST_CASE("cells with commas and quotes come back as they were") {
  const std::vector<std::string> cells{"1", "a,b", "says \"no\"", "", "x"};
  std::string line;
  for (const std::string& cell : cells) line += (line.empty() ? "" : ",") + csv_cell(cell);
  CHECK(cells_of(line) == cells);
  CHECK(variant_number("12,3") == 12);
  CHECK(variant_number("12") == 0);
  CHECK(variant_number("x,3") == 0);
  CHECK(variant_number("-1,3") == 0);
}

TEST_CASE("a table becomes a database that answers with numbers") {
  const Folder folder;
  const std::string csv = folder.write(
      "all.csv", "variant,tube[a].wall_mm,tube[A].wall_mm,duty,verdict,governing_weld,site,damage,life_km,failure_probability,mass_kg,fault\n"
                 "1,2.5,3,duty.toml,meets,W1,root@0,0.5,900,1e-05,9.5,\n"
                 "2,2.5,4,duty.toml,impossible,,,,,,,\"too thin, it \"\"says\"\"\"\n"
                 "3,3,3,duty.toml,falls_short,W10,root@0,2,1100,0.1,10,\n");
  write_database(csv);
  const std::string db = database_of(csv);
  CHECK(db == (folder.path / "all.sqlite").string());
  CHECK(asked(db, "SELECT count(*) FROM variants") == "3");
  CHECK(asked(db, "SELECT variant FROM variants ORDER BY life_km DESC LIMIT 1") == "3");  // 1100 > 900 as numbers
  CHECK(asked(db, "SELECT sum(\"tube[a].wall_mm\") FROM variants") == "8.0");
  CHECK(asked(db, "SELECT sum(\"tube[A].wall_mm'\") FROM variants") == "10.0");
  CHECK(asked(db, "SELECT damage FROM variants WHERE variant = 2") == "NULL");
  CHECK(asked(db, "SELECT fault FROM variants WHERE variant = 2") == "too thin, it \"says\"");
  CHECK(asked(db, "SELECT typeof(duty) FROM variants") == "text");
  write_database(csv);  // anew
  CHECK(asked(db, "SELECT count(*) FROM variants") == "3");
  CHECK(database_of("part.1") == "part.1.sqlite");
  sqlite3* book = nullptr;
  const std::string shop = (folder.path / "shop.sqlite").string();
  REQUIRE(sqlite3_open(shop.c_str(), &book) == SQLITE_OK);
  REQUIRE(sqlite3_exec(book, "CREATE TABLE entry (seq); INSERT INTO entry VALUES (1)", nullptr, nullptr, nullptr) == SQLITE_OK);
  sqlite3_close(book);
  const std::string of_shop = folder.write("shop.csv", head + row(1)), text = folder.write("text.csv", head + row(1));
  folder.write("text.sqlite", "no database at all, but somebody's");
  CHECK_THROWS_AS(write_database(of_shop), std::runtime_error);
  CHECK_THROWS_AS(write_database(text), std::runtime_error);
  CHECK(asked(shop, "SELECT count(*) FROM entry") == "1");
  CHECK(files::read_text((folder.path / "text.sqlite").string()) == "no database at all, but somebody's");
  CHECK_THROWS_AS(write_database(folder.write("twice.csv", head + row(1) + row(1))), std::runtime_error);
  CHECK(!std::filesystem::exists(folder.path / "twice.sqlite"));
  CHECK(!std::filesystem::exists(folder.path / "twice.sqlite.new"));
}
