// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/render/terminal_table.h"

#include <catch2/catch.hpp>

#include "reports/render/cells.h"

using namespace seamwright::reports;

namespace {

TextTable table_of_welds() {
  const TextCell life{"life", true, false};
  return {{{{"weld"}, {"on"}, {"why"}, life, {"verdict"}},
           {{"W01"}, {"spine"}, {"no published factor reaches a brace as wide as its chord"}, {"1200 km", true, true}, {"falls short", false, true}},
           {{"W02.L"}, {"rail"}, {""}, {"13 000 km", true, true}, {"meets", false, true}}},
          {}};
}

std::size_t longest(const FittedTable& t) {
  std::size_t most = 0;
  for (const std::string& line : t.lines) most = std::max(most, columns_of(line));
  return most;
}

}  // namespace

TEST_CASE("a table without a width stands as wide as it comes, numbers at the right") {
  const FittedTable t = fitted_table(table_of_welds(), 0);
  REQUIRE(t.lines.size() == 3);
  CHECK(t.left_out.empty());
  CHECK(t.lines[1].ends_with("chord    1200 km  falls short"));
  CHECK(t.lines[2].starts_with("W02.L  rail "));
}

TEST_CASE("sentences break at blanks before a column is left out, and no word and no number is cut") {
  const FittedTable t = fitted_table(table_of_welds(), 60);
  CHECK(longest(t) <= 60);
  CHECK(t.left_out.empty());
  CHECK(t.lines.size() > 3);
  std::string all;
  for (const std::string& line : t.lines) all += line + "\n";
  for (const char* whole : {"published", "13 000 km", "falls short", "verdict", "W02.L"}) CHECK(all.find(whole) != std::string::npos);
}

TEST_CASE("columns are left out by importance or from the right, named, and never the first or the verdict") {
  const FittedTable t = fitted_table(table_of_welds(), 28);
  CHECK((t.left_out == std::vector<std::string>{"life", "why"}));
  CHECK(longest(t) <= 28);
  const FittedTable least = fitted_table(table_of_welds(), 1);
  CHECK((least.left_out == std::vector<std::string>{"life", "why", "on"}));
  CHECK(least.lines[0].starts_with("weld"));
  TextTable by_importance = table_of_welds();
  by_importance.first_to_go = {2};
  CHECK((fitted_table(by_importance, 40).left_out == std::vector<std::string>{"why"}));
}
