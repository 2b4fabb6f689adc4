// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/render/cells.h"

#include <fmt/format.h>

#include <algorithm>

namespace seamwright::reports {

std::string shape_of(const State& state) {
  if (state.name == "meets") return "●";
  if (state.name == "falls_short") return "▼";
  if (state.name == "not_covered" || state.name == "none") return "⧄";
  if (state.name == "extended") return "◐";
  return "○";
}

std::string visible(const std::string& text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto c = static_cast<unsigned char>(text[i]);
    const bool override_mark =
        c == 0xE2 && i + 2 < text.size() && static_cast<unsigned char>(text[i + 1]) == 0x80 &&
        static_cast<unsigned char>(text[i + 2]) >= 0xAA && static_cast<unsigned char>(text[i + 2]) <= 0xAE;
    const bool c1 = c == 0xC2 && i + 1 < text.size() && static_cast<unsigned char>(text[i + 1]) < 0xA0;
    if (c < 0x20 || c == 0x7F || override_mark || c1)
      out.append(fmt::format("\\x{:02x}", c));
    else
      out.push_back(text[i]);
  }
  return out;
}

std::size_t columns_of(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(
      text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

std::string plain_text(const Cell& cell, Language language) {
  if (const auto* v = std::get_if<Verbatim>(&cell)) return visible(v->text);
  if (const auto* q = std::get_if<Quantity>(&cell)) return quantity(q->value, q->unit, q->digits, language);
  if (const auto* m = std::get_if<Message>(&cell)) return visible(sentence(*m, language));
  const State& state = std::get<State>(cell);
  return shape_of(state) + " " + sentence({"state." + state.name, {}}, language);
}

}  // namespace seamwright::reports
