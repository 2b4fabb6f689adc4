// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/patch.h"

#include <fmt/format.h>

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

[[noreturn]] void fail(MessageId id, const std::string& file, const std::string& what) {
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
  std::string operator()(const PatchItem& item) const { return std::visit(*this, item); }
};

// Inserts below the header's line, or at the top for the root table.
std::string inserted(const std::string& file, const std::string& content, const toml::table& table, bool root,
                     const std::string& key, const std::string& literal, const std::string& place) {
  if (table.is_inline()) {
    std::size_t brace = byte_of(content, table.source().end) - 1;  // the closing one
    while (brace > 0 && content[brace - 1] == ' ') --brace;
    return content.substr(0, brace) + (table.empty() ? " " : ", ") + key + " = " + literal +
           (content[brace] == ' ' ? "" : " ") + content.substr(brace);
  }
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

struct PlaceInText {
  const toml::table* table = nullptr;  ///< that holds the last step
  Step last;
  const toml::node* node = nullptr;  ///< what it names; null when the key is not there
};

PlaceInText find_place(const std::string& file, const toml::table& root, const std::string& place) {
  const std::vector<Step> steps = steps_of(file, place);
  const toml::table* table = &root;
  for (std::size_t i = 0; i + 1 < steps.size(); ++i) {
    const toml::node* child = child_of(*table, steps[i]);
    table = child ? child->as_table() : nullptr;
    if (!table) fail("file.no-place", file, place);
  }
  return {table, steps.back(), child_of(*table, steps.back())};
}

struct Span {
  std::size_t from = 0, to = 0;
};

std::size_t line_start(const std::string& content, std::size_t at) {
  return at == 0 ? 0 : content.rfind('\n', at - 1) + 1;
}
std::size_t line_end(const std::string& content, std::size_t at) {  // behind the line's end
  const std::size_t end = content.find('\n', at);
  return end == std::string::npos ? content.size() : end + 1;
}

// Furthest byte of a value or of all that a table holds.
std::size_t last_byte(const std::string& content, const toml::node& node) {
  std::size_t last = byte_of(content, node.source().end);
  if (const auto* table = node.as_table(); table && !table->is_inline())
    for (const auto& [key, child] : *table) last = std::max(last, last_byte(content, child));
  if (node.is_array_of_tables())
    for (const toml::node& child : *node.as_array()) last = std::max(last, last_byte(content, child));
  return last;
}

// True when a table that is not part of `row` begins within the span.
bool holds_other(const std::string& content, const toml::node& node, const toml::node* row, Span span) {
  if (&node == row) return false;
  if (node.is_array_of_tables()) {
    for (const toml::node& child : *node.as_array())
      if (holds_other(content, child, row, span)) return true;
    return false;
  }
  const auto* table = node.as_table();
  if (!table || table->is_inline()) return false;
  const std::size_t begin = byte_of(content, table->source().begin);
  if (begin > span.from && begin < span.to) return true;
  for (const auto& [key, child] : *table)
    if (holds_other(content, child, row, span)) return true;
  return false;
}

// Whole lines of a row, from its header to its last value.
Span span_of_row(const std::string& file, const std::string& content, const toml::table& root,
                 const std::string& place) {
  const PlaceInText found = find_place(file, root, place);
  if (!found.last.row || !found.node || !found.node->is_table() || found.node->as_table()->is_inline())
    fail("file.no-place", file, place);
  Span span{byte_of(content, found.node->source().begin), 0};
  if (span.from >= content.size() || content[span.from] != '[') fail("file.no-place", file, place);
  span.from = line_start(content, span.from);
  span.to = line_end(content, last_byte(content, *found.node) - 1);
  for (const auto& [key, child] : root)
    if (holds_other(content, child, found.node, span)) fail("file.no-place", file, place);
  return span;
}

}  // namespace

std::string toml_text(const std::string& value) {
  std::string quoted = "\"";
  for (const char c : value) {
    if (c == '"' || c == '\\') quoted += '\\';
    if (static_cast<unsigned char>(c) >= 0x20 && c != 0x7f)
      quoted += c;
    else
      quoted += fmt::format("\\u{:04X}", static_cast<unsigned char>(c));
  }
  return quoted + '"';
}

std::string patched(const std::string& file, const std::string& content, const std::string& place,
                    const PatchValue& value) {
  const toml::table root = parse(file, content);
  const PlaceInText found = find_place(file, root, place);
  const std::string literal = std::visit(Literal{file}, value);
  if (!found.node) {
    if (found.last.row) fail("file.no-place", file, place);
    return inserted(file, content, *found.table, found.table == &root, found.last.key, literal, place);
  }
  if (found.node->is_table() || found.node->is_array_of_tables()) fail("file.no-place", file, place);
  const std::size_t from = byte_of(content, found.node->source().begin),
                    to = byte_of(content, found.node->source().end);
  return content.substr(0, from) + literal + content.substr(to);
}

std::string without_value(const std::string& file, const std::string& content, const std::string& place) {
  const toml::table root = parse(file, content);
  const PlaceInText found = find_place(file, root, place);
  if (!found.node || found.last.row || found.table->is_inline() || found.node->is_table() ||
      found.node->is_array_of_tables())
    fail("file.no-place", file, place);
  const std::size_t from = line_start(content, byte_of(content, found.node->source().begin)),
                    to = line_end(content, byte_of(content, found.node->source().end));
  return content.substr(0, from) + content.substr(to);
}

std::string with_row_copied(const std::string& file, const std::string& content, const std::string& row,
                            const std::string& id) {
  const toml::table root = parse(file, content);
  const Span span = span_of_row(file, content, root, row);
  const toml::table& table = *find_place(file, root, row).node->as_table();
  const toml::node* own = table.get("id");
  if (!own) fail("file.no-place", file, row);
  const std::size_t from = byte_of(content, own->source().begin), to = byte_of(content, own->source().end);
  std::string copy =
      content.substr(span.from, from - span.from) + quoted(file, id) + content.substr(to, span.to - to);
  if (copy.back() != '\n') copy.push_back('\n');
  const std::string gap = content[span.to - 1] == '\n' ? "\n" : "\n\n";
  return content.substr(0, span.to) + gap + copy + content.substr(span.to);
}

std::string without_row(const std::string& file, const std::string& content, const std::string& row) {
  const toml::table root = parse(file, content);
  Span span = span_of_row(file, content, root, row);
  if (span.to < content.size() && content[span.to] == '\n') ++span.to;  // one blank line goes too
  return content.substr(0, span.from) + content.substr(span.to);
}

}  // namespace seamwright::files
