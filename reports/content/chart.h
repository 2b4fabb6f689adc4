// SPDX-License-Identifier: GPL-3.0-or-later
// A plot's frame: linear or logarithmic axes with hairlines, and what is drawn within them.
#pragma once

#include <utility>
#include <vector>

#include "reports/content/picture.h"

namespace seamwright::reports {

/// from < to; logarithmic axes above 0.
struct Axis {
  double from = 0, to = 1;
  bool logarithmic = false;
  Message label;  ///< with its unit
};

struct Chart {
  Axis across, upright;
  Picture picture;
  double left_mm = 17, top_mm = 5, width_mm = 150, height_mm = 85;
  Point point_of(double x, double y) const;  ///< not limited to the frame
};
/// Draws grid, numbers and labels. Axes that are no range become one of a decade or a unit.
Chart chart(Axis across, Axis upright, double height_mm = 85);

/// Points are in the axes' values; parts outside are cut off.
void draw_line(Chart& chart, const std::vector<std::pair<double, double>>& points, const Pen& pen);
void draw_dot(Chart& chart, double x, double y, double radius_mm, const Pen& pen, const Colour& fill);
/// Words beside a place, `right_mm` and `up_mm` off it.
void draw_words(Chart& chart, double x, double y, Cell text, double right_mm = 1, double up_mm = 1,
                Colour colour = {Ink::ink, 0});
/// A line under the plot: where the curve comes from.
void draw_source(Chart& chart, Message source);

}  // namespace seamwright::reports
