// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/text/terms.h"

#include <algorithm>
#include <cctype>
#include <optional>
#include <regex>

#include "reports/text/text.h"

namespace seamwright::reports {

namespace {

std::string_view words_of(std::string_view family, std::string_view word, Language language) {
  return sentence_template(std::string(family).append(term_id(word)), language);
}

// "2.5 .. 4 mm", ">= 0.8 mm", "12 HV10"; no groups of materials ("5.1"), standards or dates.
bool is_measure(const std::string& word) {
  static const std::regex measure(R"(((>=|<=) )?-?[0-9]+(\.[0-9]+)?( \.\. (-?[0-9]+(\.[0-9]+)?|any))? ?(mm|mm/s|A/mm|A|V|C|deg|kJ/mm|%|HV10|s|MPa))");
  return std::regex_match(word, measure);
}

std::string measure_text(std::string word, Language language) {
  const std::string mark = quantity(0.5, "", digits_given, language).substr(1, 1);
  for (std::size_t at = word.find('.'); at != std::string::npos; at = word.find('.', at + 1)) {
    const bool between = at > 0 && at + 1 < word.size() && std::isdigit(static_cast<unsigned char>(word[at - 1])) &&
                         std::isdigit(static_cast<unsigned char>(word[at + 1]));
    if (between) word.replace(at, 1, mark);
  }
  if (const std::size_t span = word.find(" .. "); span != std::string::npos) word.replace(span, 4, " – ");
  if (word.starts_with(">=")) word.replace(0, 2, "≥");
  if (word.starts_with("<=")) word.replace(0, 2, "≤");
  if (word.ends_with(" deg")) word.replace(word.size() - 4, 4, "°");
  if (word.ends_with(" C")) word.replace(word.size() - 1, 1, "°C");
  return word;
}

}  // namespace

std::string term_id(std::string_view word) {
  std::string id;
  for (const char c : word) {
    const auto letter = static_cast<unsigned char>(c);
    if (std::isalnum(letter))
      id.push_back(static_cast<char>(std::tolower(letter)));
    else if (!id.empty() && id.back() != '-')
      id.push_back('-');
  }
  if (id.ends_with('-')) id.pop_back();
  return id;
}

namespace {

// "1 to 60 names", "half_deck in place of half_dek": the words between and behind.
std::optional<std::string> joined_text(std::string_view family, const std::string& word, Language language) {
  for (const std::string_view between : {" to ", " in place of "}) {
    const std::size_t at = word.find(between);
    const std::string_view link = words_of(family, between, language);
    if (at == std::string::npos || link.empty()) continue;
    std::string rest = word.substr(at + between.size()), behind;
    if (const std::size_t blank = rest.find(' '); blank != std::string::npos) {
      behind = " " + term_text(family, rest.substr(blank + 1), language);
      rest.erase(blank);
    }
    return word.substr(0, at) + " " + std::string(link) + " " + rest + behind;
  }
  return std::nullopt;
}

// "at least min_wall_mm", "one table [[trip]] or more": the longest beginning that the family has, and what follows as it is.
std::optional<std::string> begun_text(std::string_view family, const std::string& word, Language language) {
  for (std::size_t at = word.rfind(' '); at != std::string::npos && at > 0; at = word.rfind(' ', at - 1)) {
    const std::string before = word.substr(0, at);
    const std::string_view known = words_of(family, before, language);
    const std::string first = before.find_first_not_of("0123456789") == std::string::npos ? before : std::string(known);
    if (first.empty()) continue;
    std::string rest = word.substr(at + 1);
    if (const std::size_t blank = rest.find(' '); blank != std::string::npos)
      rest = rest.substr(0, blank + 1) + term_text(family, rest.substr(blank + 1), language);
    return first + " " + (before == first ? term_text(family, rest, language) : rest);
  }
  return std::nullopt;
}

// "tube-tee, tube-shell": each word by itself, where the family has all of them; a semicolon between, since names have commas.
std::optional<std::string> listed_text(std::string_view family, const std::string& word, Language language) {
  if (word.find(", ") == std::string::npos) return std::nullopt;
  std::string all;
  for (std::size_t begin = 0; begin < word.size();) {
    const std::size_t end = std::min(word.find(", ", begin), word.size());
    const std::string_view known = words_of(family, word.substr(begin, end - begin), language);
    if (known.empty()) return std::nullopt;
    all.append(all.empty() ? "" : "; ").append(known);
    begin = end + 2;
  }
  return all;
}

}  // namespace

std::string term_text(std::string_view family, const std::string& word, Language language) {
  if (const std::string_view whole = words_of(family, word, language); !whole.empty()) return std::string(whole);
  const std::size_t bracket = word.find(" (");
  if (bracket != std::string::npos)
    if (const std::string_view first = words_of(family, word.substr(0, bracket), language); !first.empty())
      return std::string(first).append(word, bracket);
  if (is_measure(word)) return measure_text(word, language);
  if (auto listed = listed_text(family, word, language)) return *listed;
  if (auto joined = joined_text(family, word, language)) return *joined;
  return begun_text(family, word, language).value_or(word);
}

}  // namespace seamwright::reports
