// SPDX-License-Identifier: GPL-3.0-or-later
// Dimension lines in the manner of ISO 129-1 [from memory]: thin, ended by arrows, between extension lines, the value
// over the line and read from below or from the right.
#pragma once

#include <string>
#include <vector>

#include "reports/content/picture.h"

namespace seamwright::reports {

/// One dimension line stands so far from the next beside it, mm.
constexpr double dimension_row_mm = 8;

struct LinearDimension {
  Point from, to;    ///< what it measures
  bool upright = false;
  double line = 0;   ///< y of a level dimension line, x of an upright one
  Cell value;
  double value_wide_mm = 8;  ///< about; a shorter line has its arrows and its value outside
  std::string name{};        ///< small, on the other side of the line
};
/// All lines first, then the values, which interrupt the lines that run under them.
void add_dimensions(Picture& picture, const std::vector<LinearDimension>& dimensions);

/// An arc about the corner, from one direction to another (radians, against the clock, less than half a turn).
void add_angle(Picture& picture, const Point& corner, double radius_mm, double from_rad, double to_rad, Cell value);

/// A note on a short level line, with a leader that ends in an arrow on an outline, or in a dot within one.
enum class LeaderEnd { arrow, dot };
void add_note(Picture& picture, const Point& on, const Point& note, Cell text, double wide_mm, LeaderEnd end);

}  // namespace seamwright::reports
