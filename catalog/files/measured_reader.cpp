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
                     const auto text_or_empty = [&](const char* column) {
                       return row.has(column) ? row.text_of(column).substr(0, 200) : std::string();
                     };
                     Finding f{row.text_of("weld").substr(0, 200),
                               text_or_empty("site"),
                               row.text_of("imperfection"),
                               row.real("value_mm", 0, 1000),
                               text_or_empty("method"),
                               text_or_empty("inspector"),
                               text_or_empty("date"),
                               static_cast<double>(row.line())};
                     if (!is_imperfection(f.imperfection))
                       row.fail("measured.bad-imperfection", {text("found", f.imperfection.substr(0, 80))});
                     all.push_back(std::move(f));
                   });
  return all;
}

}  // namespace seamwright::files
