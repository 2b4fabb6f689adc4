// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/render/cells.h"

#include <fmt/format.h>

#include <algorithm>

namespace seamwright::reports {

std::string shape_of(const State& state) {
  const auto is = [&](std::initializer_list<const char*> names) {
    return std::any_of(names.begin(), names.end(), [&](const char* name) { return state.name == name; });
  };
  if (is({"meets", "intact", "no-open-gaps", "within", "qualified", "accepted"})) return "●";
  if (is({"falls_short", "broken", "open-gaps", "cracked", "beyond", "not-qualified", "rejected"})) return "▼";
  if (is({"not_covered", "none", "undecided", "engineer-decides"})) return "⧄";
  if (is({"extended", "intact-refused"})) return "◐";
  return "○";
}

namespace {

// Marks that turn the direction of text, hide, or break a line without being seen: code point and its bytes;
// 0 = none.
std::pair<unsigned, std::size_t> hidden_mark(const std::string& text, std::size_t i) {
  const auto byte_at = [&](std::size_t k) {
    return k < text.size() ? static_cast<unsigned char>(text[k]) : 0U;
  };
  const unsigned a = byte_at(i), b = byte_at(i + 1), c = byte_at(i + 2);
  if (a == 0xC2 && b >= 0x80 && b < 0xA0) return {b, 2};  // C1 controls
  if (a == 0xD8 && b == 0x9C) return {0x61C, 2};
  if (a == 0xE2 && (b == 0x80 || b == 0x81) && c >= 0x80 && c < 0xC0) {
    const unsigned point = 0x2000 + ((b & 1) << 6) + (c & 0x3F);
    const bool hides = (point >= 0x200B && point <= 0x200F) || (point >= 0x2028 && point <= 0x202E) ||
                       (point >= 0x2060 && point <= 0x206F);
    return {hides ? point : 0, 3};
  }
  if (a == 0xEF && b == 0xBB && c == 0xBF) return {0xFEFF, 3};
  return {0, 1};
}

}  // namespace

std::string visible(const std::string& text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto c = static_cast<unsigned char>(text[i]);
    const auto [point, bytes] = hidden_mark(text, i);
    if (c < 0x20 || c == 0x7F) {
      out.append(fmt::format("\\x{:02x}", c));
    } else if (point > 0) {
      out.append(fmt::format("\\u{:04x}", point));
      i += bytes - 1;
    } else {
      out.push_back(text[i]);
    }
  }
  return out;
}

std::string escaped(const std::string& text) {
  std::string out;
  for (const char c : text) switch (c) {
      case '&':
        out.append("&amp;");
        break;
      case '<':
        out.append("&lt;");
        break;
      case '>':
        out.append("&gt;");
        break;
      case '"':
        out.append("&quot;");
        break;
      case '\'':
        out.append("&#39;");
        break;
      default:
        out.push_back(c);
    }
  return out;
}

bool holds_numbers(const Table& t, std::size_t column) {
  for (const std::vector<Cell>& row : t.rows) {
    if (column >= row.size()) return false;
    const auto* words = std::get_if<Verbatim>(&row[column]);
    if (!words || (!words->text.empty() && words->text != "–"))
      return std::holds_alternative<Quantity>(row[column]);
  }
  return false;
}

std::size_t columns_of(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(
      text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

namespace {

std::string in_one_line(const Particulars& particulars, Language language) {
  std::string out;
  for (const Particulars::Particular& p : particulars.all) {
    const Cell value = std::visit([](const auto& v) { return Cell(v); }, p.value);
    out.append(out.empty() ? "" : ", ").append(visible(sentence(p.label, language)));
    out.append(" ").append(plain_text(value, language));
  }
  return out;
}

}  // namespace

std::string plain_text(const Cell& cell, Language language) {
  if (const auto* v = std::get_if<Verbatim>(&cell)) return visible(v->text);
  if (const auto* q = std::get_if<Quantity>(&cell)) return quantity(q->value, q->unit, q->digits, language);
  if (const auto* m = std::get_if<Message>(&cell)) return visible(sentence(*m, language));
  if (std::holds_alternative<EntryBox>(cell)) return std::string("____");
  if (const auto* p = std::get_if<Particulars>(&cell)) return in_one_line(*p, language);
  const State& state = std::get<State>(cell);
  return shape_of(state) + " " + sentence({composed_id("state.", state.name), {}}, language);
}

}  // namespace seamwright::reports
