// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/sweeps/table_lines.h"

#include <charconv>

namespace seamwright::sweeps {

std::string csv_cell(const std::string& cell) {
  if (cell.find_first_of(",\"\n") == std::string::npos) return cell;
  std::string out("\"");
  for (const char c : cell) out.append(c == '"' ? 2 : 1, c);
  out.push_back('"');
  return out;
}

std::vector<std::string> cells_of(std::string_view line) {
  std::vector<std::string> cells{{}};
  bool inside = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (c == '"' && inside && i + 1 < line.size() && line[i + 1] == '"')
      cells.back().push_back(line[++i]);
    else if (c == '"')
      inside = !inside;
    else if (c == ',' && !inside)
      cells.emplace_back();
    else
      cells.back().push_back(c);
  }
  return cells;
}

std::size_t variant_number(std::string_view row) {
  std::size_t number = 0;
  const auto read = std::from_chars(row.data(), row.data() + row.size(), number);
  return read.ec == std::errc{} && read.ptr != row.data() + row.size() && *read.ptr == ',' ? number : 0;
}

}  // namespace seamwright::sweeps
