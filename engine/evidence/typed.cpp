// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/evidence/typed.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace seamwright {

std::optional<double> typed_number(std::string_view text) {
  constexpr std::string_view blank = " \t\r";
  const std::size_t first = text.find_first_not_of(blank);
  if (first == std::string_view::npos) return std::nullopt;
  text = text.substr(first, text.find_last_not_of(blank) - first + 1);
  if (text.front() == '+') {
    text.remove_prefix(1);
    if (text.starts_with('-')) return std::nullopt;
  }
  std::array<char, 64> plain{};
  if (text.empty() || text.size() > plain.size()) return std::nullopt;
  std::transform(text.begin(), text.end(), plain.begin(), [](char c) { return c == ',' ? '.' : c; });
  const char* end = plain.data() + text.size();
  double value = 0;
  const auto [last, error] = std::from_chars(plain.data(), end, value);
  if (error != std::errc{} || last != end || !std::isfinite(value)) return std::nullopt;
  return value;
}

}  // namespace seamwright
