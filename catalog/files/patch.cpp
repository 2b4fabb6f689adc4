// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/patch.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <string_view>

#include "catalog/files/parse.h"
#include "engine/evidence/evidence.h"

namespace seamwright::files {

namespace {

struct Step {
  std::string key;
  std::optional<std::string> row;  ///< "[...]" behind the key
};

[[noreturn]] void fail(const char* id, const std::string& file, const std::string& what) {
  throw Fault{Message{id, {text("file", file), text("place", what)}}};
}

std::vector<Step> steps_of(const std::string& file, const std::string& place) {
  std::vector<Step> steps;
  std::size_t at = 0;
  while (at < place.size()) {
    Step step;
    const std::size_t key_end = std::min(place.find_first_of(".[", at), place.size());
    step.key = place.substr(at, key_end - at);
    at = key_end;
    if (at < place.size() && place[at] == '[') {
      const std::size_t close = place.find(']', at);
      if (close == std::string::npos) fail("file.no-place", file, place);
      step.row = place.substr(at + 1, close - at - 1);
      at = close + 1;
    }
    if (step.key.empty() || (at < place.size() && place[at] != '.')) fail("file.no-place", file, place);
    if (at < place.size() && ++at == place.size()) fail("file.no-place", file, place);
    steps.push_back(std::move(step));
  }
  if (steps.empty()) fail("file.no-place", file, place);
  return steps;
}

const toml::node* row_of(const toml::array& rows, const std::string& row) {
  for (const toml::node& node : rows)
    if (const toml::table* table = node.as_table(); table && (*table)["id"].value<std::string>() == row)
      return &node;
  std::size_t index = 0;
  const auto [end, error] = std::from_chars(row.data(), row.data() + row.size(), index);
  const bool whole = error == std::errc{} && end == row.data() + row.size();
  return whole && index < rows.size() ? rows.get(index) : nullptr;
}

const toml::node* child_of(const toml::table& table, const Step& step) {
  const toml::node* node = table.get(step.key);
  if (!node || !step.row) return node;
  const toml::array* rows = node->as_array();
  return rows ? row_of(*rows, *step.row) : nullptr;
}

// Byte of a place in the text; the parser counts lines and columns (code points) from 1.
std::size_t byte_of(std::string_view content, const toml::source_position& position) {
  std::size_t at = content.starts_with("\xEF\xBB\xBF") ? 3 : 0;
  for (toml::source_index line = 1; line < position.line; ++line)
    at = std::min(content.find('\n', at), content.size() - 1) + 1;
  for (toml::source_index column = 1; column < position.column && at < content.size(); ++column) {
    ++at;
    while (at < content.size() && (static_cast<unsigned char>(content[at]) & 0xC0u) == 0x80u) ++at;
  }
  return at;
}

std::string quoted(const std::string& file, const std::string& text) {
  std::string out("\"");
  for (const char c : text) {
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F) fail("file.bad-patch", file, text);
    if (c == '"' || c == '\\') out.push_back('\\');
    out.push_back(c);
  }
  return out.append("\"");
}

struct Literal {
  const std::string& file;
  std::string operator()(double value) const {
    if (!std::isfinite(value)) fail("file.bad-patch", file, std::to_string(value));
    std::array<char, 40> buffer{};
    return {buffer.data(), std::to_chars(buffer.data(), buffer.data() + buffer.size(), value).ptr};
  }
  std::string operator()(bool value) const { return value ? std::string("true") : std::string("false"); }
  std::string operator()(const std::string& value) const { return quoted(file, value); }
  template <class Item>
  std::string operator()(const std::vector<Item>& values) const {
    std::string out("[");
    for (std::size_t i = 0; i < values.size(); ++i) out.append(i ? ", " : "").append((*this)(values[i]));
    return out.append("]");
  }
};

// Below the header's line, or at the top for the root table.
std::string inserted(const std::string& file, const std::string& content, const toml::table& table, bool root,
                     const std::string& key, const std::string& literal, const std::string& place) {
  if (table.is_inline()) fail("file.no-place", file, place);
  std::size_t at = 0;
  if (!root) {
    at = byte_of(content, table.source().begin);
    if (at >= content.size() || content[at] != '[') fail("file.no-place", file, place);
    at = content.find('\n', at);
    if (at == std::string::npos) return content + "\n" + key + " = " + literal + "\n";
    ++at;
  }
  return content.substr(0, at) + key + " = " + literal + "\n" + content.substr(at);
}

}  // namespace

std::string patched(const std::string& file, const std::string& content, const std::string& place,
                    const PatchValue& value) {
  const toml::table root = parse(file, content);
  const std::vector<Step> steps = steps_of(file, place);
  const toml::table* table = &root;
  for (std::size_t i = 0; i + 1 < steps.size(); ++i) {
    const toml::node* child = child_of(*table, steps[i]);
    table = child ? child->as_table() : nullptr;
    if (!table) fail("file.no-place", file, place);
  }
  const std::string literal = std::visit(Literal{file}, value);
  const toml::node* node = child_of(*table, steps.back());
  if (!node) {
    if (steps.back().row) fail("file.no-place", file, place);
    return inserted(file, content, *table, table == &root, steps.back().key, literal, place);
  }
  if (node->is_table() || node->is_array_of_tables()) fail("file.no-place", file, place);
  const std::size_t from = byte_of(content, node->source().begin), to = byte_of(content, node->source().end);
  return content.substr(0, from) + literal + content.substr(to);
}

}  // namespace seamwright::files
