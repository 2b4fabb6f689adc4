// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/small_table.h"

#include <algorithm>

#include "catalog/published/nearest.h"
#include "engine/evidence/typed.h"

namespace seamwright::files {

namespace {

constexpr std::size_t most_rows = 100000;

bool contains(const std::vector<std::string>& list, const std::string& name) {
  return std::find(list.begin(), list.end(), name) != list.end();
}

// The nearest of the names, or all of them.
std::string nearest_columns(const std::string& name, const std::vector<std::string>& names) {
  std::string near = published::nearest(name, names);
  if (near.empty())
    for (const std::string& n : names) near.append(near.empty() ? "" : ", ").append(n.substr(0, 80));
  return near;
}

void check_header(const Lines& lines, const std::vector<std::string>& header,
                  const std::vector<std::string>& needed, const std::vector<std::string>& others) {
  for (std::size_t i = 0; i < header.size(); ++i)
    if (std::find(header.begin(), header.begin() + static_cast<std::ptrdiff_t>(i), header[i]) !=
        header.begin() + static_cast<std::ptrdiff_t>(i))
      lines.fail("file.doubled-column", {text("column", header[i].substr(0, 80))});
  for (const std::string& name : needed)
    if (!contains(header, name))
      lines.fail("file.no-column", {text("column", name), text("expected", nearest_columns(name, header))});
  std::vector<std::string> known = needed;
  known.insert(known.end(), others.begin(), others.end());
  for (const std::string& name : header)
    if (!contains(known, name))
      lines.fail("file.unknown-column",
                 {text("column", name.substr(0, 80)), text("nearest", nearest_columns(name, known))});
}

}  // namespace

bool TableRow::has(const std::string& column) const {
  return contains(header_, column) && !text_of(column).empty();
}

std::string TableRow::text_of(const std::string& column) const {
  const auto at =
      static_cast<std::size_t>(std::find(header_.begin(), header_.end(), column) - header_.begin());
  if (at == header_.size())
    lines_.fail("file.no-column",
                {text("column", column), text("expected", nearest_columns(column, header_))});
  return at < cells_.size() ? cells_[at] : std::string();
}

double TableRow::real(const std::string& column) const {
  const std::string cell = text_of(column);
  const auto value = typed_number(cell);
  if (!value) lines_.fail("file.bad-cell", {text("column", column), text("found", cell.substr(0, 80))});
  return *value;
}

double TableRow::real(const std::string& column, double least, double most) const {
  const double value = real(column);
  if (value < least || value > most)
    lines_.fail("file.cell-range", {text("column", column), number("found", value, ""),
                                    number("least", least, ""), number("most", most, "")});
  return value;
}

void read_small_table(const SourceFile& file, const std::vector<std::string>& needed,
                      const std::vector<std::string>& others,
                      const std::function<void(const TableRow&)>& read_row) {
  Lines lines(file);
  std::string line;
  std::vector<std::string> header;
  char separator = ',';
  std::size_t rows = 0;
  while (lines.next(line)) {
    if (line.find('\0') != std::string::npos) lines.fail("file.not-text", {});
    if (lines.number() == 1 && line.starts_with("\xEF\xBB\xBF")) line.erase(0, 3);
    const std::string_view t = trimmed(line);
    if (t.empty() || t.front() == '#') continue;
    if (header.empty()) {
      separator = line.find(';') != std::string::npos ? ';' : ',';
      header = cells(line, separator);
      check_header(lines, header, needed, others);
      continue;
    }
    if (++rows > most_rows) lines.fail("file.too-long", {number("most", static_cast<double>(most_rows), "")});
    lines.check_count(line, separator, header.size());
    read_row(TableRow(lines, header, cells(line, separator)));
  }
  if (rows == 0) lines.fail("file.empty", {});
}

}  // namespace seamwright::files
