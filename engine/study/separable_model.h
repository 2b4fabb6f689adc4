// SPDX-License-Identifier: GPL-3.0-or-later
// A search's model of its problem: each choice changes the logarithm of each use by so much, whatever else is chosen. Measured by
// trials that differ in one choice; wrong wherever choices work on each other, so it only proposes.
#pragma once

#include <optional>

#include "engine/study/discrete_search.h"

namespace seamwright::study {

/// Natural logarithms of a trial's uses, within bounds that arithmetic bears.
std::vector<double> logarithms_of(const Trial& trial);

class SeparableModel {
 public:
  explicit SeparableModel(const SearchProblem& problem);

  /// The model is exact here from now on.
  void stand_at(const Point& point, const Trial& trial);
  /// A trial that differs from where the model stands in one choice.
  void measured(const Point& point, const Trial& trial);
  bool knows(std::size_t group, std::uint32_t option) const { return effects_[group][option].has_value(); }

  /// The point where it stands is repaired where limits are broken, at the best ratio of gain to cost, then made cheaper by single changes and
  /// pairs. share: of each limit; most_changes: groups that may differ. The point where it stands when nothing is better.
  Point proposal(double share, std::size_t most_changes) const;
  /// Pairs of changes from where it stands that it holds to be better there, the cheapest first.
  std::vector<Point> pairs(std::size_t most) const;

 private:
  struct Walk;
  using Logs = std::vector<double>;
  const SearchProblem& problem_;
  Point at_;
  Logs logs_;
  std::vector<std::vector<std::optional<Logs>>> effects_;  ///< group x option: ln use less that of a common origin
};

}  // namespace seamwright::study
