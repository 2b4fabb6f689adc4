// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/qualification/smallest_cover.h"

#include <algorithm>

namespace seamwright::qualification {

namespace {

struct Search {
  const std::vector<Covered>& sets;
  const std::vector<std::size_t>& kept;  ///< sets that no other one contains
  std::size_t steps;
  std::vector<std::size_t> chosen{}, best{};
  bool complete = true;

  // The open thing that the fewest sets hold: its sets are the branches.
  std::vector<std::size_t> branches(const Covered& open) const {
    std::vector<std::size_t> fewest;
    for (std::size_t thing = open.find_first(); thing != Covered::npos; thing = open.find_next(thing)) {
      std::vector<std::size_t> holding;
      for (const std::size_t set : kept)
        if (sets[set].test(thing)) holding.push_back(set);
      if (fewest.empty() || holding.size() < fewest.size()) fewest = std::move(holding);
    }
    std::stable_sort(fewest.begin(), fewest.end(), [&](std::size_t a, std::size_t b) { return (sets[a] & open).count() > (sets[b] & open).count(); });
    return fewest;
  }

  std::size_t most_at_once(const Covered& open) const {
    std::size_t most = 1;
    for (const std::size_t set : kept) most = std::max(most, (sets[set] & open).count());
    return most;
  }

  void run(const Covered& open) {
    if (open.none()) {
      if (best.empty() || chosen.size() < best.size()) best = chosen;
      return;
    }
    const std::size_t needed = (open.count() + most_at_once(open) - 1) / most_at_once(open);
    if (!best.empty() && chosen.size() + needed >= best.size()) return;
    for (const std::size_t set : branches(open)) {
      if (steps == 0 && !best.empty()) {  // a first choice is always found: by the largest sets in turn
        complete = false;
        return;
      }
      steps -= steps > 0 ? 1 : 0;
      chosen.push_back(set);
      run(open - sets[set]);
      chosen.pop_back();
    }
  }
};

std::vector<std::size_t> without_contained(const std::vector<Covered>& sets) {
  std::vector<std::size_t> kept;
  for (std::size_t i = 0; i < sets.size(); ++i) {
    bool contained = sets[i].none();
    for (std::size_t j = 0; j < sets.size() && !contained; ++j)
      contained = j != i && sets[i].is_subset_of(sets[j]) && (sets[i] != sets[j] || j < i);
    if (!contained) kept.push_back(i);
  }
  return kept;
}

}  // namespace

Cover smallest_cover(const std::vector<Covered>& sets, std::size_t steps) {
  if (sets.empty()) return {};
  Covered all(sets.front().size());
  for (const Covered& s : sets) all |= s;
  const std::vector<std::size_t> kept = without_contained(sets);
  Search search{sets, kept, steps};
  search.run(all);
  std::sort(search.best.begin(), search.best.end());
  return {std::move(search.best), search.complete};
}

}  // namespace seamwright::qualification
