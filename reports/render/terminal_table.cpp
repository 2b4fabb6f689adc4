// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/render/terminal_table.h"

#include <algorithm>
#include <numeric>
#include <sstream>

#include "reports/render/cells.h"

namespace seamwright::reports {

namespace {

constexpr std::size_t gap = 2;

std::vector<std::string> words_of(const std::string& text) {
  std::istringstream in(text);
  std::vector<std::string> words;
  for (std::string word; in >> word;) words.push_back(word);
  return words;
}

struct Column {
  std::size_t at = 0, width = 0, least = 0;  ///< least: of its longest word
};

std::vector<Column> columns_in(const TextTable& table) {
  std::vector<Column> columns(table.rows[0].size());
  for (std::size_t i = 0; i < columns.size(); ++i) {
    columns[i].at = i;
    for (std::size_t r = 0; r < table.rows.size(); ++r) {
      const std::string& cell = table.rows[r][i].text;
      columns[i].width = std::max(columns[i].width, columns_of(cell));
      if (table.rows[r][i].whole) columns[i].least = std::max(columns[i].least, columns_of(cell));
      for (const std::string& word : words_of(cell)) columns[i].least = std::max(columns[i].least, columns_of(word));
    }
  }
  return columns;
}

std::size_t total(const std::vector<Column>& columns, std::size_t Column::*size) {
  return std::accumulate(columns.begin(), columns.end(), gap * (columns.size() - 1),
                         [size](std::size_t sum, const Column& c) { return sum + c.*size; });
}

// The widest column gives way first.
void narrow(std::vector<Column>& columns, std::size_t width) {
  while (total(columns, &Column::width) > width) {
    Column* widest = nullptr;
    for (Column& c : columns)
      if (c.width > c.least && (!widest || c.width > widest->width)) widest = &c;
    if (!widest) return;
    --widest->width;
  }
}

std::vector<std::string> broken(const std::string& cell, std::size_t width) {
  if (columns_of(cell) <= width) return {cell};
  std::vector<std::string> lines(1);
  for (const std::string& word : words_of(cell)) {
    if (!lines.back().empty() && columns_of(lines.back()) + 1 + columns_of(word) > width) lines.emplace_back();
    lines.back().append(lines.back().empty() ? "" : " ").append(word);
  }
  return lines;
}

void write_row(const TextTable& table, std::size_t r, const std::vector<Column>& columns, std::vector<std::string>& out) {
  std::vector<std::vector<std::string>> cells;
  std::size_t height = 1;
  for (const Column& c : columns) {
    cells.push_back(broken(table.rows[r][c.at].text, c.width));
    height = std::max(height, cells.back().size());
  }
  for (std::size_t k = 0; k < height; ++k) {
    std::string text;
    for (std::size_t i = 0; i < columns.size(); ++i) {
      const std::string part = k < cells[i].size() ? cells[i][k] : "";
      const std::string pad(columns[i].width - std::min(columns[i].width, columns_of(part)), ' ');
      text.append(table.rows[r][columns[i].at].right ? pad + part : part + pad).append(gap, ' ');
    }
    text.erase(text.find_last_not_of(' ') + 1);
    out.push_back(std::move(text));
  }
}

}  // namespace

FittedTable fitted_table(const TextTable& table, std::size_t width) {
  FittedTable out;
  std::vector<Column> columns = columns_in(table);
  if (width > 0) {
    std::vector<std::size_t> order = table.first_to_go;
    for (std::size_t i = columns.size() - 1; i-- > 1;)
      if (std::find(order.begin(), order.end(), i) == order.end()) order.push_back(i);
    for (std::size_t k = 0; k < order.size() && total(columns, &Column::least) > width; ++k) {
      out.left_out.push_back(table.rows[0][order[k]].text);
      std::erase_if(columns, [&](const Column& c) { return c.at == order[k]; });
    }
    narrow(columns, width);
  }
  for (std::size_t r = 0; r < table.rows.size(); ++r) write_row(table, r, columns, out.lines);
  return out;
}

}  // namespace seamwright::reports
