// SPDX-License-Identifier: GPL-3.0-or-later
// The cheapest point among discrete choices that keeps all limits, where a trial is dear: a separable model of what each
// choice does to each limit proposes, trials decide. It knows nothing of frames (docs/methods/improve.md).
#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <string>
#include <vector>

#include "engine/rating/progress.h"

namespace seamwright::study {

/// One option chosen in each group, by number.
using Point = std::vector<std::uint32_t>;

/// A point tried. An impossible one has no uses.
struct Trial {
  bool possible = false;
  std::vector<double> use;  ///< each at most 1 where its limit is kept; as many for every point; NaN or infinite: far beyond
  double merit = 0;         ///< told on, not searched for: the second axis of a front, less is better
};

/// So far beyond its limits is a trial: the sum of ln use over those above 1; infinite where it is impossible.
double shortfall_of(const Trial& trial);

struct SearchProblem {
  std::vector<std::uint32_t> options;  ///< how many each group has
  /// Neighbours of an option in a group; by default all others.
  std::function<std::vector<std::uint32_t>(std::size_t group, std::uint32_t option)> near{};
  std::function<double(const Point&)> cost;    ///< exact and quick
  std::function<bool(const Point&)> allowed{};  ///< quick, before a trial; by default all are
  std::function<Trial(const Point&)> rate;     ///< dear; called from several threads at once
};

/// The best point so far, told whenever there is a better one.
struct SearchNews {
  std::size_t trials = 0;
  double cost = 0, shortfall = 0, merit = 0;
};
struct SearchOrder {
  std::size_t most_trials = 2000;
  std::size_t most_kicks = 2;      ///< fresh starts from the best with some choices changed at random
  std::string seed = "seamwright";  ///< of the kicks
  std::size_t threads = 0;         ///< 0: one per processor; no result depends on it
  std::function<bool()> time_over{};  ///< asked between batches; a search that it ends depends on the machine's speed
  std::function<void(const Point&, const Trial&)> sink{};  ///< each new trial, in a fixed order
  std::function<void(const SearchNews&)> news{};
};

enum class SearchEnd { settled, trials, time, stopped };
/// "settled", "trials", "time", "stopped".
const char* name_of(SearchEnd end);

struct SearchResult {
  Point best;
  Trial trial;      ///< of the best
  double cost = 0;  ///< of the best
  bool reached = false;  ///< all limits are kept; else the best is the nearest that was found
  std::size_t trials = 0;  ///< rated here; those known before are not counted
  SearchEnd end = SearchEnd::settled;
};

/// Points that were tried, of this search and of earlier ones that may go on.
using Trials = std::map<Point, Trial>;

/// Goes from the start to where no single change that the neighbours allow and no pair of changes that the model favours is better: within
/// the limits the cheaper, outside them the nearer. `known` takes every trial in and is asked first. A stop asked for ends it with the best
/// so far. Throws Fault "study.no-choice" for a problem without groups, and what rate() throws.
SearchResult search(const SearchProblem& problem, const Point& start, const SearchOrder& order, Trials& known,
                    const rating::Progress& progress);

/// Every allowed point in turn, for small spaces: the search is held against it. Ties go to the first in the order of the points.
SearchResult search_exhaustively(const SearchProblem& problem, const SearchOrder& order, Trials& known,
                                 const rating::Progress& progress);

}  // namespace seamwright::study
