// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/column.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <memory>
#include <string_view>
#include <vector>

#include "catalog/published/nearest.h"
#include "engine/evidence/evidence.h"

namespace seamwright::files {

namespace {

std::string_view trimmed(std::string_view s) {
  constexpr std::string_view blank = " \t\r";
  const std::size_t first = s.find_first_not_of(blank);
  if (first == std::string_view::npos) return {};
  s = s.substr(first, s.find_last_not_of(blank) - first + 1);
  if (s.size() >= 2 && s.front() == '"' && s.back() == '"') s = s.substr(1, s.size() - 2);
  return s;
}

std::vector<std::string> cells(std::string_view line, char separator) {
  std::vector<std::string> found;
  for (;;) {
    const std::size_t at = line.find(separator);
    found.emplace_back(trimmed(line.substr(0, at)));
    if (at == std::string_view::npos) return found;
    line.remove_prefix(at + 1);
  }
}

char separator_of(std::string_view header) {
  for (const char c : {'\t', ';', ','})
    if (header.find(c) != std::string_view::npos) return c;
  return ',';
}

class Table {
 public:
  explicit Table(const std::string& path) : path_(path) {
    std::error_code ignored;
    if (!std::filesystem::exists(path, ignored)) fail("file.missing", {});
    if (!std::filesystem::is_regular_file(path, ignored)) fail("file.unreadable", {});
    file_.open(path, std::ios::binary);
    if (!file_) fail("file.unreadable", {});
  }

  // A line without its end; false at the end of the file. Bounded: a line is never held beyond the longest
  // allowed.
  bool next(std::string& line) {
    line.clear();
    ++number_;
    for (;;) {
      if (at_ == filled_) {
        file_.read(buffer_.data(), static_cast<std::streamsize>(buffer_.size()));
        filled_ = static_cast<std::size_t>(file_.gcount());
        at_ = 0;
        if (filled_ == 0) return !line.empty();
      }
      const auto from = buffer_.begin() + static_cast<std::ptrdiff_t>(at_),
                 to = buffer_.begin() + static_cast<std::ptrdiff_t>(filled_);
      const auto end = std::find(from, to, '\n');
      line.append(from, end);
      at_ += static_cast<std::size_t>(end - from);
      if (line.size() > longest_line)
        fail("file.long-line", {number("most", static_cast<double>(longest_line >> 20), "MiB")});
      if (end == to) continue;
      ++at_;
      return true;
    }
  }

  [[noreturn]] void fail(const char* id, std::vector<Argument> more) const {
    more.insert(more.begin(), {text("file", path_), number("line", static_cast<double>(number_), "")});
    throw Fault{Message{id, std::move(more)}};
  }

 private:
  std::string path_;
  std::ifstream file_;
  std::vector<char> buffer_ = std::vector<char>(1u << 16);
  std::size_t at_ = 0, filled_ = 0, number_ = 0;
};

double to_number(const Table& table, std::string_view cell, bool decimal_comma) {
  std::string plain(cell);
  if (decimal_comma) std::replace(plain.begin(), plain.end(), ',', '.');
  std::string_view digits = plain;
  if (digits.starts_with('+')) digits.remove_prefix(1);
  double value = 0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (error != std::errc{} || end != digits.data() + digits.size() || !std::isfinite(value))
    table.fail("file.bad-cell", {text("found", std::string(cell.substr(0, 80)))});
  return value;
}

std::string_view cell_of(const Table& table, std::string_view line, char separator, std::size_t index) {
  for (std::size_t i = 0; i < index; ++i) {
    const std::size_t at = line.find(separator);
    if (at == std::string_view::npos) table.fail("file.bad-cell", {text("found", "")});
    line.remove_prefix(at + 1);
  }
  return trimmed(line.substr(0, line.find(separator)));
}

bool header_line(Table& table, std::string& line) {
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

std::size_t read_column(const std::string& path, const std::string& column,
                        const std::function<void(std::span<const double>)>& sink) {
  Table table(path);
  std::string line;
  if (!header_line(table, line)) table.fail("file.empty", {});
  const char separator = separator_of(line);
  const std::vector<std::string> names = cells(line, separator);
  const auto at = std::find(names.begin(), names.end(), column);
  if (at == names.end())
    table.fail("file.no-column",
               {text("column", column), text("expected", published::nearest(column, names))});
  const auto index = static_cast<std::size_t>(at - names.begin());
  std::vector<double> block;
  block.reserve(4096);
  std::size_t count = 0;
  while (table.next(line)) {
    if (trimmed(line).empty()) continue;
    block.push_back(to_number(table, cell_of(table, line, separator, index), separator != ','));
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
