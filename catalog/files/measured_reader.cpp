// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/measured_reader.h"

#include <algorithm>
#include <cctype>

#include "catalog/files/small_table.h"

namespace seamwright::files {

namespace {

bool is_imperfection(const std::string& s) {
  if (s == "throat" || s == "leg" || s == "cap-width") return true;
  return s.size() >= 3 && s.size() <= 5 &&
         std::all_of(s.begin(), s.end(), [](unsigned char c) { return std::isdigit(c) != 0; });
}

}  // namespace

std::vector<Finding> read_measured(const SourceFile& file) {
  std::vector<Finding> all;
  read_small_table(file, {"weld", "imperfection", "value_mm"}, {"site", "method", "inspector", "date"},
                   [&](const TableRow& row) {
                     const auto word = [&](const char* column) {
                       return row.has(column) ? row.word(column).substr(0, 200) : std::string();
                     };
                     Finding f{row.word("weld").substr(0, 200),
                               word("site"),
                               row.word("imperfection"),
                               row.real("value_mm", 0, 1000),
                               word("method"),
                               word("inspector"),
                               word("date"),
                               static_cast<double>(row.line())};
                     if (!is_imperfection(f.imperfection))
                       row.fail("measured.bad-imperfection", {text("found", f.imperfection.substr(0, 80))});
                     all.push_back(std::move(f));
                   });
  return all;
}

}  // namespace seamwright::files
