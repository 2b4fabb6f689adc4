// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/text/text.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <ctime>

#include "reports/text/terms.h"

namespace seamwright::reports {

namespace {

constexpr const char* no_break = "\u00a0";  // between a number and its unit

const Pattern* find_pattern(std::string_view id, Language language) {
  const auto& all = language.file->patterns;
  const auto it = std::lower_bound(all.begin(), all.end(), id,
                                   [](const Pattern& p, std::string_view i) { return p.id < i; });
  return it != all.end() && it->id == id ? &*it : nullptr;
}

// The words for the number that the message counts.
std::string_view words_for(const Message& message, const Pattern& pattern, Language language) {
  const auto& one = language.file->one;
  if (!pattern.count.empty())
    for (const Argument& a : message.arguments)
      if (const auto* number = std::get_if<double>(&a.value);
          number && a.name == pattern.count && std::find(one.begin(), one.end(), *number) != one.end())
        return pattern.one;
  return pattern.other;
}

// The value of a figure has the figure's digits; every other number its own.
int digits_in(const Message& message, const Argument& argument) {
  if (argument.name == "value")
    for (const Argument& a : message.arguments)
      if (const auto* figure = std::get_if<std::string>(&a.value); figure && a.name == "figure")
        return digits_of(std::string_view(*figure).substr(0, figure->find(' ')));
  return digits_of(argument.name);
}

// "root@270": the place in words, with its angle around the weld.
std::string site_text(const std::string& site, Language language) {
  const std::size_t at = site.find('@');
  const auto place = find_message_id("site." + site.substr(0, at));
  if (!place) return site;
  std::string words(sentence_template(place->text(), language));
  return at == std::string::npos ? words : words.append(", ").append(site, at + 1).append("°");
}

std::string argument_text(const Message& message, const Argument& argument, Language language) {
  if (const auto* value = std::get_if<double>(&argument.value))
    return quantity(*value, argument.unit, digits_in(message, argument), language);
  const auto& text = std::get<std::string>(argument.value);
  if (argument.unit == "word") return std::string(sentence_template(text, language));
  if (argument.unit == "site" && !text.empty()) return site_text(text, language);
  if (argument.unit.starts_with(term_unit) && !text.empty()) return term_text(argument.unit.substr(term_unit.size()), text, language);
  return text.empty() ? std::string("–") : text;
}

// The digits are written as the language has them, in groups of three before the mark from 10 000 on; a power
// of ten has no groups.
std::string written(const std::string& digits, const LanguageFile& as) {
  const std::size_t whole = std::min(digits.find_first_of(".e"), digits.size()), first = digits[0] == '-' ? 1 : 0;
  std::string out;
  for (std::size_t i = 0; i < digits.size(); ++i) {
    if (whole - first >= 5 && i > first && i < whole && (whole - i) % 3 == 0) out.append(as.group_mark);
    out.push_back(digits[i] == '.' ? as.decimal_mark : digits[i]);
  }
  return out;
}

}  // namespace

std::string_view sentence_template(std::string_view id, Language language) {
  const Pattern* pattern = find_pattern(id, language);
  return pattern ? pattern->other : std::string_view{};
}

std::vector<std::string> known_ids(Language language) {
  std::vector<std::string> ids;
  for (const Pattern& pattern : language.file->patterns) ids.emplace_back(pattern.id);
  return ids;
}

std::string quantity(double value, std::string_view unit, int digits, Language language) {
  if (std::isnan(value)) return std::string("–");
  if (std::isinf(value)) return std::string(sentence_template("word.unlimited", language));
  std::string number;
  const double size = std::abs(value);
  if (size != 0 && (size >= 1e7 || size < 1e-3)) {
    number = fmt::format("{:.{}e}", value, digits - 1);
  } else {
    const int before = size > 0 ? static_cast<int>(std::floor(std::log10(size))) + 1 : 1;
    if (digits < before)
      value = std::round(value / std::pow(10, before - digits)) * std::pow(10, before - digits);
    number = fmt::format("{:.{}f}", value, std::max(0, digits - before));
    if (number.find('.') != std::string::npos) {
      while (number.back() == '0') number.pop_back();
      if (number.back() == '.') number.pop_back();
    }
  }
  number = written(number, *language.file);
  const std::string_view word = sentence_template(std::string("unit.").append(unit), language);
  if (!unit.empty()) number.append(no_break).append(word.empty() ? unit : word);
  return number;
}

std::string sentence(const Message& message, Language language) {
  const Pattern* found = find_pattern(message.id.text(), language);
  std::string out;
  if (!found) {
    out.append("[").append(message.id.text()).append("]");
    for (const Argument& a : message.arguments)
      out.append(" ").append(a.name).append("=").append(argument_text(message, a, language));
    return out;
  }
  std::string_view pattern = words_for(message, *found, language);
  while (!pattern.empty()) {
    const std::size_t open = pattern.find('{'), close = pattern.find('}', open);
    if (open == std::string_view::npos || close == std::string_view::npos) break;
    out.append(pattern.substr(0, open));
    const std::string_view name = pattern.substr(open + 1, close - open - 1);
    for (const Argument& a : message.arguments)
      if (a.name == name) {
        // a line number is a name, not a quantity
        const auto* value = std::get_if<double>(&a.value);
        out.append(value && a.name == "line" ? fmt::format("{:.0f}", *value)
                                             : argument_text(message, a, language));
      }
    pattern.remove_prefix(close + 1);
  }
  return out.append(pattern);
}

std::string local_time(const std::string& utc) {
  std::tm tm{};
  const char* end = ::strptime(utc.c_str(), "%Y-%m-%dT%H:%M:%SZ", &tm);
  if (!end || *end != '\0') return utc;
  const std::time_t time = ::timegm(&tm);
  std::tm here{};
  ::localtime_r(&time, &here);
  char out[64];
  std::string shown(out, std::strftime(out, sizeof out, "%Y-%m-%d %H:%M:%S %z", &here));
  return shown.append(" (").append(utc, 11, std::string::npos).append(")");
}

}  // namespace seamwright::reports
