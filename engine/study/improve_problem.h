// SPDX-License-Identifier: GPL-3.0-or-later
// A job as a problem of the search: what a point costs, whether it may be welded, what its rating says.
#pragma once

#include <memory>

#include "engine/rating/memory.h"
#include "engine/study/improve.h"
#include "engine/study/quick_frame.h"

namespace seamwright::study {

/// Uses of a trial in their order: three limit states (e to the power of target index less index), strength under peaks, then each weld, notch and circle of
/// bolts of the design (damage of its worst place over what its target allows).
inline constexpr std::size_t uses_before_welds = 4;
inline constexpr const char* names_of_uses[uses_before_welds] = {"any-crack", "single-path", "fall", "strength"};

class ImproveProblem {
 public:
  /// Rates the design as drawn. What it is given must live. Throws what improve() throws.
  ImproveProblem(const rating::Job& job, const rules::Published& published, const ImproveOrder& order);

  const Choices& choices() const { return choices_; }
  const FrameFigures& drawn() const { return drawn_; }
  const std::vector<Message>& shape() const { return shape_; }
  /// The point's options where it has them, the drawing elsewhere (an option beyond those of a group).
  design::Design design_at(const Point& point) const;
  double cost_at(const Point& point) const;
  bool allowed(const Point& point) const;
  Trial trial_at(const Point& point) const;
  FrameFigures figures_at(const Point& point) const;
  /// Frames of 1000 with any crack by another set; NaN where it cannot be rated.
  double cracked_by(const rules::RuleSet& set, const Point& point) const;
  /// The design itself, drawn sizes that are not in stock too.
  Point as_drawn() const;
  SearchProblem search() const;

 private:
  struct Rated;
  Rated rated(const Point& point) const;
  Trial trial_of(const Rated& rated) const;

  const rating::Job& job_;
  const rules::Published& published_;
  const ImproveOrder& order_;
  Choices choices_;
  SeamLengths seams_;
  QuickFrame quick_;
  std::vector<Message> shape_;
  std::vector<std::string> uncovered_;  // subjects without a number as drawn: no choice is blamed for them
  FrameFigures drawn_;
  mutable rating::Memory memory_;
};

}  // namespace seamwright::study
