// SPDX-License-Identifier: GPL-3.0-or-later
// Hidden-line views against descriptive geometry.
#include <algorithm>
#include <cmath>

#include "tests/published/shape/worked.h"

namespace seamwright::models {

namespace {

struct Extent {
  double left = 1e9, right = -1e9, low = 1e9, high = -1e9;
};

Extent extent(const Lines& lines, bool visible) {
  Extent e;
  for (const shape::ViewLine& l : lines)
    if (l.visible == visible)
      for (const auto& p : l.points) {
        e.left = std::min(e.left, p.x());
        e.right = std::max(e.right, p.x());
        e.low = std::min(e.low, p.y());
        e.high = std::max(e.high, p.y());
      }
  return e;
}

double length(const Lines& lines, const std::string& id, bool visible) {
  double sum = 0;
  for (const shape::ViewLine& l : lines)
    for (std::size_t i = 1; l.id == id && l.visible == visible && i < l.points.size(); ++i)
      sum += (l.points[i] - l.points[i - 1]).norm();
  return sum;
}

}  // namespace

TEST_CASE("a tube seen from the side is a rectangle of its diameter, its bore hidden") {
  SOURCE(closed_form, "descriptive geometry: parallel projection of a cylinder", "the view is tilted by 0.1 degrees");
  const shape::Body tube = body_of(part({straight(frame::RoundTube{40, 5}, {100, 0, 50}, {400, 0, 50})})).body;
  const Lines lines = std::get<Lines>(worked(ViewTask{{{"tube", "", tube}}, {0, 1, 0}, {0, 0, 1}}));
  const Extent seen = extent(lines, true), hidden = extent(lines, false);
  // Looking along +y with z up, x runs to the right. The tilt of 0.1 degrees moves lines by less than a millimetre.
  CHECK(seen.left == outside::Expected(100).margin(1));
  CHECK(seen.right == outside::Expected(400).margin(1));
  CHECK(seen.low == outside::Expected(30).margin(1));
  CHECK(seen.high == outside::Expected(70).margin(1));
  CHECK(hidden.low == outside::Expected(35).margin(6));  // the bore's outline, and the back halves of the end circles
  CHECK(length(lines, "tube", false) > 2 * 299);
}

TEST_CASE("a tube behind another is hidden over its diameter") {
  SOURCE(closed_form, "descriptive geometry: parallel projection of a cylinder", "the view is tilted by 0.1 degrees");
  const shape::Body front = body_of(part({straight(frame::SolidBar{40}, {0, 0, -200}, {0, 0, 200})})).body;
  const shape::Body behind = body_of(part({straight(frame::SolidBar{20}, {-200, 100, 0}, {200, 100, 0})})).body;
  const Lines lines =
      std::get<Lines>(worked(ViewTask{{{"front", "", front}, {"behind", "", behind}}, {0, 1, 0}, {0, 0, 1}}));
  // Two outlines of 400 mm, each hidden over the 40 mm of the bar in front; and half of each end's circle.
  double straight_hidden = 0;
  for (const shape::ViewLine& l : lines)
    if (l.id == "behind" && !l.visible && l.outline)
      for (std::size_t i = 1; i < l.points.size(); ++i) straight_hidden += (l.points[i] - l.points[i - 1]).norm();
  CHECK(straight_hidden == outside::Expected(2 * 40).margin(1));
}

}  // namespace seamwright::models
