// SPDX-License-Identifier: GPL-3.0-or-later
// Names at the border of a drawing: each place within is joined to a name outside by one straight leader, and no
// two leaders cross.
#pragma once

#include <optional>
#include <vector>

#include "reports/content/picture.h"

namespace seamwright::reports {

struct Rectangle {
  double left = 0, top = 0, right = 0, bottom = 0;
};
bool meet(const Rectangle& a, const Rectangle& b);

/// Names stand between the inner and the outer rectangle, all of one size, so that leaders, which stay in the
/// inner one, run under none of them.
struct Border {
  Rectangle outer, inner;
  double label_wide_mm = 0, label_high_mm = 0;
  std::vector<Rectangle> kept_free{};  ///< no name stands there
};
std::size_t room_of(const Border& border);

/// The name has the rectangle; its leader ends at `end`, on the inner rectangle.
struct BorderLabel {
  enum class Side { left, right, above, below } side = Side::left;
  Rectangle box;
  Point end;
};

/// One label for each place, in the order of the places; none for those behind the last that finds room.
/// The sum of all leaders is the least, by the Hungarian method: of two that cross, the four ends joined the other
/// way are shorter, so that none do. Then leaders that run over another's place go elsewhere where that crosses
/// nothing.
std::vector<std::optional<BorderLabel>> border_labels(const std::vector<Point>& places, const Border& border);

/// Two stretches have a point in common, be it an end.
bool cross(const Point& a, const Point& b, const Point& c, const Point& d);

}  // namespace seamwright::reports
