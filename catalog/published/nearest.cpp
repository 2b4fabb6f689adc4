// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/published/nearest.h"

#include <algorithm>
#include <numeric>

namespace seamwright::published {

std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t above = row[j];
      row[j] = std::min({above + 1, row[j - 1] + 1, diagonal + (a[i - 1] == b[j - 1] ? 0 : 1)});
      diagonal = above;
    }
  }
  return row.back();
}

std::string nearest(std::string_view word, const std::vector<std::string>& known) {
  if (word.size() > 200) return "";
  std::string sides;
  if (!word.empty())
    for (const std::string& candidate : known)
      if (candidate.size() > word.size() && candidate.starts_with(word) && candidate[word.size()] == '.')
        sides.append(sides.empty() ? "" : ", ").append(candidate);
  if (!sides.empty()) return sides;
  std::string best;
  std::size_t best_distance = word.size() / 2 + 1;
  for (const std::string& candidate : known) {
    const std::size_t distance = edit_distance(word, candidate);
    if (distance < best_distance) {
      best = candidate;
      best_distance = distance;
    }
  }
  // "heat" for "heat_kj_mm": a name without its unit.
  if (best.empty() && word.size() > 2)
    for (const std::string& candidate : known)
      if (candidate.size() > word.size() && candidate.starts_with(word) && (candidate[word.size()] == '_' || candidate[word.size()] == '-'))
        best.append(best.empty() ? "" : ", ").append(candidate);
  return best;
}

std::string nearest_or_some(std::string_view word, const std::vector<std::string>& known) {
  constexpr std::size_t most = 8;
  std::string words = nearest(word, known);
  if (!words.empty()) return words;
  for (std::size_t i = 0; i < std::min(most, known.size()); ++i) words.append(i == 0 ? "" : ", ").append(known[i]);
  return known.size() > most ? words.append(", …") : words;
}

}  // namespace seamwright::published
