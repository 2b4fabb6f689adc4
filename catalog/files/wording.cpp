// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/wording.h"

#include <algorithm>
#include <functional>
#include <stdexcept>

#include "catalog/published/built_in.h"

namespace seamwright::files {

namespace {

bool is_of_key(char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_'; }

// The key before an equals sign, "" where none is.
std::string key_before(std::string_view text, std::size_t equals) {
  while (equals > 0 && text[equals - 1] == ' ') --equals;
  std::size_t begin = equals;
  while (begin > 0 && is_of_key(text[begin - 1])) --begin;
  return std::string(text.substr(begin, equals - begin));
}

std::string by_lines(std::string_view content, const std::function<std::string(std::string_view)>& worded) {
  std::string out;
  for (std::size_t begin = 0; begin < content.size();) {
    const std::size_t end = std::min(content.find('\n', begin), content.size());
    out += worded(content.substr(begin, end - begin));
    if (end < content.size()) out += '\n';
    begin = end + 1;
  }
  return out;
}

}  // namespace

Wording::Wording(std::string_view code) {
  for (const published::DataFile& file : published::demonstration_files()) {
    if (file.name != std::string(code).append(".txt")) continue;
    std::size_t begin = 0;
    while (begin < file.text.size()) {
      const std::size_t end = std::min(file.text.find('\n', begin), file.text.size());
      const std::string row = file.text.substr(begin, end - begin);
      begin = end + 1;
      if (row.empty() || row.starts_with("# ")) continue;
      const std::size_t colon = row.find(": "), arrow = row.find(" => ");
      if (colon == std::string::npos || arrow == std::string::npos || arrow < colon) throw std::logic_error(file.name + ": " + row);
      entries_.push_back({row.substr(0, colon), row.substr(colon + 2, arrow - colon - 2), row.substr(arrow + 4)});
    }
  }
}

std::string Wording::text(std::string_view key, std::string_view english) const {
  const auto found = std::find_if(entries_.begin(), entries_.end(), [&](const Entry& e) { return e.key == key && e.english == english; });
  return found == entries_.end() ? std::string(english) : found->other;
}

// A comment may hold a row to be filled in, with a comment of its own behind it: that one is looked up.
std::string Wording::comment(std::string_view content) const {
  std::size_t begin = content.find_first_not_of("# ");
  if (begin == std::string_view::npos) return std::string(content);
  if (const std::size_t inner = content.find(" # ", begin); inner != std::string_view::npos) begin = inner + 3;
  return std::string(content.substr(0, begin)) + text("#", content.substr(begin));
}

std::string Wording::line(std::string_view content, std::string& key) const {
  std::string out;
  for (std::size_t i = 0; i < content.size(); ++i) {
    if (content[i] == '#') return out + comment(content.substr(i));
    if (content[i] == '=') key = key_before(content, i);
    if (content[i] != '"') {
      out += content[i];
      continue;
    }
    const std::size_t end = content.find('"', i + 1);
    if (end == std::string_view::npos) return out.append(content.substr(i));
    out.append("\"").append(text(key, content.substr(i + 1, end - i - 1))).append("\"");
    i = end;
  }
  return out;
}

std::string Wording::row(std::string_view content) const {
  if (content.starts_with('#')) return comment(content);
  std::string out;
  for (std::size_t begin = 0; begin <= content.size();) {
    const std::size_t end = std::min(content.find_first_of(",;", begin), content.size());
    out += text("csv", content.substr(begin, end - begin));
    if (end < content.size()) out += content[end];
    begin = end + 1;
  }
  return out;
}

std::string Wording::file(std::string_view content) const {
  std::string key;
  return by_lines(content, [&](std::string_view one) { return line(one, key); });
}

std::string Wording::table(std::string_view content) const {
  return by_lines(content, [&](std::string_view one) { return row(one); });
}

}  // namespace seamwright::files
