// SPDX-License-Identifier: GPL-3.0-or-later
// Plates, gussets, brackets, dropouts and sleeves as the design states them: plain data.
#pragma once

#include <string>
#include <vector>

#include "engine/frame/vector.h"

namespace seamwright::design {

/// A corner of an outline, mm in the plate's plane. The side to the next corner is straight (bulge 0), or an
/// arc: `bulge` is the tangent of a quarter of its angle, positive where it swells to the right of the way.
struct Corner {
  double x_mm = 0, y_mm = 0, bulge = 0;
  bool operator==(const Corner&) const = default;
};

struct PlateHole {
  double x_mm = 0, y_mm = 0, diameter_mm = 0;
  bool operator==(const PlateHole&) const = default;
};

/// A flat plate, half its thickness to either side of the plane through `origin`. x and y: unit vectors in the
/// plane, square to each other. The outline runs against the clock, seen along -(x cross y).
struct Plate {
  std::string id, steel;
  double thickness_mm = 0;
  frame::Vec3 origin_mm{0, 0, 0}, x{1, 0, 0}, y{0, 1, 0};
  std::vector<Corner> outline;
  std::vector<PlateHole> holes;
  std::vector<std::string> welds;  ///< that hold it
  bool operator==(const Plate&) const = default;
};

/// A tube over or within a member.
struct Sleeve {
  enum class Kind { inner, outer, split };
  std::string id, member;
  Kind kind = Kind::outer;
  double at_mm = 0;  ///< its middle, from the member's first node along it
  double length_mm = 0, wall_mm = 0;
  double gap_mm = 0;  ///< split: of the slot along it
};

/// Outlines of the common forms, mm. Triangle: the right angle at the origin, legs along x and y. Dished: the
/// same with its long side hollowed by an arc of this radius. Tongue: from the origin along x with a round end.
std::vector<Corner> triangle(double along_x_mm, double along_y_mm);
std::vector<Corner> dished(double along_x_mm, double along_y_mm, double radius_mm);
std::vector<Corner> tongue(double length_mm, double width_mm);

/// Two sides of the outline, as straight lines between its corners, cross or touch beyond their common corner.
bool crosses_itself(const std::vector<Corner>& outline);
/// Depth of a place within an outline, mm; negative outside. Arcs count as 64 straight lines.
double depth_within_mm(const std::vector<Corner>& outline, double x_mm, double y_mm);
/// Area of an outline, mm2; positive against the clock.
double outline_area_mm2(const std::vector<Corner>& outline);

}  // namespace seamwright::design
