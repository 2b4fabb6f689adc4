// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/column.h"

#include <algorithm>
#include <string_view>
#include <vector>

#include "catalog/files/text_lines.h"
#include "catalog/published/nearest.h"
#include "engine/evidence/typed.h"

namespace seamwright::files {

namespace {

char separator_of(std::string_view header) {
  for (const char c : {'\t', ';', ','})
    if (header.find(c) != std::string_view::npos) return c;
  return ',';
}

double to_number(const Lines& table, const std::string& column, std::string_view cell) {
  const auto value = typed_number(cell);
  if (!value)
    table.fail("file.bad-cell", {text("column", column), text("found", std::string(cell.substr(0, 80)))});
  return *value;
}

std::string_view cell_of(const Lines& table, const std::string& column, std::string_view line, char separator,
                         std::size_t index) {
  for (std::size_t i = 0; i < index; ++i) {
    const std::size_t at = line.find(separator);
    if (at == std::string_view::npos)
      table.fail("file.bad-cell", {text("column", column), text("found", "")});
    line.remove_prefix(at + 1);
  }
  return trimmed(line.substr(0, line.find(separator)));
}

bool header_line(Lines& table, std::string& line) {
  bool first = true;
  while (table.next(line)) {
    if (line.find('\0') != std::string::npos) table.fail("file.not-text", {});
    if (first && line.starts_with("\xEF\xBB\xBF")) line.erase(0, 3);
    first = false;
    if (const std::string_view t = trimmed(line); !t.empty() && t.front() != '#') return true;
  }
  return false;
}

}  // namespace

std::size_t read_column(const SourceFile& file, const std::string& column,
                        const std::function<void(std::span<const double>)>& sink) {
  Lines table(file);
  std::string line;
  if (!header_line(table, line)) table.fail("file.empty", {});
  const char separator = separator_of(line);
  const std::vector<std::string> names = cells(line, separator);
  const auto at = std::find(names.begin(), names.end(), column);
  if (at == names.end())
    table.fail("file.no-column",
               {text("column", column), text("expected", published::nearest_or_some(column, names))});
  if (std::find(at + 1, names.end(), column) != names.end())
    table.fail("file.doubled-column", {text("column", column)});
  const auto index = static_cast<std::size_t>(at - names.begin());
  std::vector<double> block;
  block.reserve(4096);
  std::size_t count = 0;
  while (table.next(line)) {
    if (trimmed(line).empty()) continue;
    table.check_count(line, separator, names.size());
    block.push_back(to_number(table, column, cell_of(table, column, line, separator, index)));
    ++count;
    if (block.size() < block.capacity()) continue;
    sink(block);
    block.clear();
  }
  if (count == 0) table.fail("file.empty", {});
  sink(block);
  return count;
}

}  // namespace seamwright::files
