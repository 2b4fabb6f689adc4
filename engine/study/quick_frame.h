// SPDX-License-Identifier: GPL-3.0-or-later
// A point of choices weighs and costs so much, and its welds' walls fit or not, without its design being made: a search asks a million times.
#pragma once

#include "engine/study/tube_choices.h"

namespace seamwright::study {

class QuickFrame {
 public:
  QuickFrame(const design::Design& design, const Choices& choices, const Stock& stock, const SeamLengths& seams);
  /// Welded tubes, as frame_mass_kg(), and metal of the welds, as SeamLengths.
  double tubes_kg(const Point& point) const;
  double welds_kg(const Point& point) const;
  /// The same as price_of().
  double price(const Point& point) const;
  std::size_t sizes(const Point& point) const;
  /// No two walls at a weld are more unequal than most_wall_ratio.
  bool walls_fit(const Point& point) const;

 private:
  static constexpr std::size_t fixed = static_cast<std::size_t>(-1);
  // A wall or diameter: that of a choice, or a number.
  struct Tube {
    std::size_t choice = fixed;
    frame::RoundTube size;
    double length_mm = 0, kg_mm3 = 0, price_per_m = 0;  // of all its members
    std::size_t steel = 0;
    bool welded = false;
  };
  struct Weld {
    std::size_t brace = fixed, chord = fixed, multiple = fixed;  // tubes; a choice
    double other_wall_mm = 0, throat_mm = 0, seam_mm = 0, brace_mm = 0;
  };
  const frame::RoundTube& size_of(const Tube& tube, const Point& point) const {
    return tube.choice == fixed ? tube.size : choices_.choices[tube.choice].sizes[point[tube.choice]].size;
  }
  double seam_mm(const Weld& weld, const Point& point) const;

  Choices choices_;
  double others_kg_ = 0;  // tubes of other shapes
  double weld_per_mm_ = 0, set_up_ = 0;
  std::vector<Tube> tubes_;
  std::vector<Weld> welds_;
};

}  // namespace seamwright::study
