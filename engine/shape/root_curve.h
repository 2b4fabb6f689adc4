// SPDX-License-Identifier: GPL-3.0-or-later
// The root of a weld around a round tube on a round tube: the curve in which their outer surfaces meet.
//
// A generator of the brace, from its axis by the radius r at an angle from the crown, meets the chord's
// surface of radius R where the part of the point square to the chord's axis is R long: a quadratic in the
// distance along the brace (elementary analytic geometry; for axes that meet it is Pressler's formula of the
// tube mitre).
#pragma once

#include <optional>
#include <vector>

#include "engine/shape/part.h"

namespace seamwright::shape {

/// Two round tubes: the brace leaves the chord from `foot`, its axis at the node.
struct TubePair {
  Vec3 foot, brace, crown;  ///< unit vectors; angles count from the crown, right-handed about the brace
  Vec3 chord_at, chord;     ///< a point of the chord's axis, and its unit direction
  double brace_radius_mm = 0, chord_radius_mm = 0;
};

/// Distance from the foot along the brace to the chord's far-reaching surface on the brace's side, mm, for a
/// generator at this radius; none where it misses the chord.
std::optional<double> reach_mm(const TubePair& pair, double angle_rad, double radius_mm);

/// A place on the root curve.
struct RootPoint {
  Vec3 at;
  Vec3 brace_normal, chord_normal;  ///< outward, of both surfaces
  Vec3 up_brace, along_chord;  ///< unit tangents of both walls, square to the curve, leading away from it
  double dihedral_rad = 0;     ///< between both outer walls, through the weld
};
std::optional<RootPoint> root_point(const TubePair& pair, double angle_rad);

/// Length of the curve by the trapezoidal rule at n angles, mm (for smooth closed curves it converges faster
/// than any power of n); none where a part of the brace misses the chord.
std::optional<double> root_length_mm(const TubePair& pair, int n = 360);

/// Least and largest dihedral angle over the curve, degrees.
struct Dihedrals {
  double least_deg = 180, most_deg = 0;
};
Dihedrals dihedrals(const TubePair& pair);

}  // namespace seamwright::shape
