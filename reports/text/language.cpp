// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/text/language.h"

#include <algorithm>
#include <charconv>
#include <deque>
#include <stdexcept>

namespace seamwright::reports {

namespace {

// One "name = value", or "id {count} form = value".
struct Row {
  std::string_view file;
  int line = 0;
  std::string_view id, count, form, value;
};

[[noreturn]] void refuse(const Row& row, const char* what) {
  throw std::invalid_argument(std::string(row.file).append(":").append(std::to_string(row.line)) + ": " +
                              what);
}

// "book.left {count} one": id, argument and form; the last two may be lacking.
void split_name(std::string_view name, Row& row) {
  const std::size_t open = name.find(" {"), close = name.find("} ");
  row.id = name.substr(0, open);
  if (open == std::string_view::npos) return;
  if (close == std::string_view::npos || close < open) refuse(row, "expected id {argument} one, or other");
  row.count = name.substr(open + 2, close - open - 2);
  row.form = name.substr(close + 2);
  if (row.form != "one" && row.form != "other") refuse(row, "the forms of number are one and other");
}

std::vector<Row> rows_of(const LanguageText& source) {
  std::string_view text = source.text;
  std::vector<Row> rows;
  for (int line = 1; !text.empty(); ++line) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    const std::string_view words = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (words.empty() || words.front() == '#') continue;
    Row row{source.name, line, {}, {}, {}, {}};
    const std::size_t sign = words.find(" = ");
    if (sign == std::string_view::npos || sign + 3 == words.size()) refuse(row, "expected id = sentence");
    row.value = words.substr(sign + 3);
    split_name(words.substr(0, sign), row);
    rows.push_back(row);
  }
  return rows;
}

// "U+00A0" as the character; anything else as it is.
std::string character_of(const Row& row) {
  if (!row.value.starts_with("U+")) return std::string(row.value);
  unsigned code = 0;
  const char* end = row.value.data() + row.value.size();
  if (std::from_chars(row.value.data() + 2, end, code, 16).ptr != end || code < 0x80 || code > 0xFFFF)
    refuse(row, "expected U+ and four figures, from U+0080");
  if (code < 0x800) return {static_cast<char>(0xC0 | code >> 6), static_cast<char>(0x80 | (code & 0x3F))};
  return {static_cast<char>(0xE0 | code >> 12), static_cast<char>(0x80 | (code >> 6 & 0x3F)),
          static_cast<char>(0x80 | (code & 0x3F))};
}

std::vector<double> numbers_of(const Row& row) {
  std::vector<double> numbers;
  for (const char *at = row.value.data(), *end = at + row.value.size(); at < end; ++at) {
    int number = 0;
    const auto read = std::from_chars(at, end, number);
    if (read.ec != std::errc{} || (read.ptr != end && *read.ptr != ' '))
      refuse(row, "expected whole numbers");
    numbers.push_back(number);
    at = read.ptr;
  }
  return numbers;
}

// A row of the head; false when the row is a sentence.
bool take_head(LanguageFile& file, const Row& row) {
  if (row.id == "code")
    file.code = row.value;
  else if (row.id == "name")
    file.name = row.value;
  else if (row.id == "group-mark")
    file.group_mark = character_of(row);
  else if (row.id == "one")
    file.one = numbers_of(row);
  else if (row.id == "decimal-mark" && (row.value == "." || row.value == ","))
    file.decimal_mark = row.value.front();
  else
    return false;
  return true;
}

// The rows sorted by id, forms of number of one id in the order of the file.
std::vector<Pattern> patterns_of(const std::vector<Row>& rows) {
  std::vector<Pattern> patterns;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const Row& row = rows[i];
    if (row.id.find('.') == std::string_view::npos) refuse(row, "an id has a subject, a point and a name");
    if (!patterns.empty() && patterns.back().id == row.id) refuse(row, "this id stands twice");
    if (row.form.empty()) {
      patterns.push_back({row.id, row.value, {}, {}});
      continue;
    }
    const Row* next = i + 1 < rows.size() ? &rows[i + 1] : nullptr;
    if (row.form != "one" || !next || next->id != row.id || next->count != row.count || next->form != "other")
      refuse(row, "a form one is followed by the form other of the same id and argument");
    patterns.push_back({row.id, next->value, row.value, row.count});
    ++i;
  }
  return patterns;
}

}  // namespace

LanguageFile read_language(const LanguageText& source) {
  LanguageFile file;
  std::vector<Row> rows = rows_of(source);
  std::size_t head = 0;
  while (head < rows.size() && take_head(file, rows[head])) ++head;
  if (head != 5 || file.code.empty() || file.name.empty() || file.group_mark.empty() || file.one.empty())
    refuse(head < rows.size() ? rows[head] : Row{source.name, 1, {}, {}, {}, {}},
           "the head has code, name, decimal-mark (. or ,), group-mark and one");
  rows.erase(rows.begin(), rows.begin() + static_cast<std::ptrdiff_t>(head));
  std::stable_sort(rows.begin(), rows.end(), [](const Row& a, const Row& b) { return a.id < b.id; });
  file.patterns = patterns_of(rows);
  return file;
}

const std::vector<Language>& languages() {
  static const std::deque<LanguageFile> files = [] {
    std::deque<LanguageFile> read;
    for (const LanguageText& source : language_files()) read.push_back(read_language(source));
    return read;
  }();
  static const std::vector<Language> all = [] {
    std::vector<Language> found;
    for (const LanguageFile& file : files) found.push_back({&file});
    std::sort(found.begin(), found.end(),
              [](const Language& a, const Language& b) { return a.file->code < b.file->code; });
    return found;
  }();
  return all;
}

std::optional<Language> find_language(std::string_view code) {
  for (const Language& language : languages())
    if (language.file->code == code) return language;
  return std::nullopt;
}

Language language_named(std::string_view code) { return find_language(code).value(); }

}  // namespace seamwright::reports
