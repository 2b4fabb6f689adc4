// SPDX-License-Identifier: GPL-3.0-or-later
// Distances between tubes as plain round solids, by elementary geometry.
#pragma once

#include "engine/frame/vector.h"

namespace seamwright::shape {

using frame::Vec3;

/// A round solid between two flat ends, mm.
struct Cylinder {
  Vec3 from, to;
  double radius_mm = 0;
};

/// Two segments come nearest here: places along each (0 at its start, 1 at its end) and the distance, mm.
/// Segments side by side are nearest along a stretch: any place of it.
struct Nearest {
  double first = 0, second = 0, distance_mm = 0;
};
Nearest nearest(const Vec3& a_from, const Vec3& a_to, const Vec3& b_from, const Vec3& b_to);

/// A point lies this far outside a cylinder; inside, less than zero by its depth below the nearest face.
/// Convex in the point.
double outside_mm(const Vec3& point, const Cylinder& cylinder);

/// Two cylinders lie this deep in each other, mm; 0 when they do not. Where they cross between their ends,
/// the sum of the radii less the distance of the axes; where an end, or the section midway between the
/// other's ends, lies in the other's body, how deep its deepest point does; the largest of these. Complete:
/// cylinders that overlap without an end in the other do so around the common perpendicular of their axes.
double overlap_mm(const Cylinder& a, const Cylinder& b);

}  // namespace seamwright::shape
