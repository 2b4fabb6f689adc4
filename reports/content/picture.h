// SPDX-License-Identifier: GPL-3.0-or-later
// A drawing or plot of our own as plain shapes in mm, x to the right, y down: the frame's views and every
// plot. SVG, paper and window draw the same picture, each in its own colours; its words stay messages and
// numbers until then.
#pragma once

#include <variant>
#include <vector>

#include "reports/content/cell.h"

namespace seamwright::reports {

struct Point {
  double x = 0, y = 0;
};

/// Roles, not colours. scale: a sequential scale from pale (level 0) to dark (level 1) in one hue.
enum class Ink { none, ink, faint, grid, steel, arc, sheet, scale };
struct Colour {
  Ink ink = Ink::none;
  double level = 0;
};

enum class Dash { solid, dashed, dotted };
struct Pen {
  Colour colour{Ink::ink, 0};
  double width_mm = 0.25;
  Dash dash = Dash::solid;
};

struct Path {
  std::vector<Point> points;
  bool closed = false;
  Pen pen;
  Colour fill{};
};
struct Circle {
  Point centre;
  double radius_mm = 0;
  Pen pen;
  Colour fill{};
};
/// at: on the base line; upright words run from bottom to top.
struct PictureText {
  enum class Anchor { start, middle, end };
  Point at;
  Cell text;
  double size_mm = 3;
  Anchor anchor = Anchor::start;
  Colour colour{Ink::ink, 0};
  bool bold = false, upright = false;
  std::string raised{};  ///< behind the text, as an exponent
};

struct Picture {
  double width_mm = 0, height_mm = 0;
  std::vector<std::variant<Path, Circle, PictureText>> items;
};

}  // namespace seamwright::reports
