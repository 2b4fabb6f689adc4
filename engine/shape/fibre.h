// SPDX-License-Identifier: GPL-3.0-or-later
// A straight line runs in a solid here and there: closed forms, without any kernel. Templates, gaps and quadrature
// volumes come from it.
#pragma once

#include <vector>

#include "engine/shape/part.h"

namespace seamwright::shape {

/// A stretch of a line, mm along it; empty where its end is not beyond its beginning.
struct Interval {
  double from_mm = 0, to_mm = 0;
  bool empty() const { return !(to_mm > from_mm); }
};

/// A line from a point along a unit direction.
struct Line {
  Vec3 point, direction;
};

/// The line lies here in the tool, filled to its outer contour. Exact for every section.
Interval inside(const Line& line, const Stretch& filled);
Interval inside(const Line& line, const HalfSpace& space);
Interval inside(const Line& line, const Cut& cut);

/// A stretch of a bent tube runs along this line from the mitre with the stretch before to that with the one
/// after; from and to its own ends at either end of the tube.
Interval between_mitres(const Line& line, const std::vector<Stretch>& stretches, std::size_t index);
/// The plane in which two stretches of one tube meet; `away` leads on along the tube.
HalfSpace mitre_of(const Stretch& first, const Stretch& second);

/// The cuts leave this of a stretch of the line, in order.
std::vector<Interval> kept(const Line& line, Interval whole, const std::vector<Cut>& cuts);

/// Unit vector across a stretch that is square to it and to its `up`.
Vec3 across(const Stretch& stretch);
Vec3 along(const Stretch& stretch);
double length_mm(const Stretch& stretch);

}  // namespace seamwright::shape
