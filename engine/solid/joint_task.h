// SPDX-License-Identifier: GPL-3.0-or-later
// One joint of a frame, to be worked out by finite elements: plain data, all numbers in it.
#pragma once

#include <string>
#include <vector>

#include "engine/shape/part.h"
#include "engine/solid/tet10.h"

namespace seamwright::solid {

using frame::Vec3;

/// A point at which the stress of a surface is read, and its weight in the stress at the toe.
struct ReadPoint {
  double distance_mm = 0, weight = 0;
  bool operator==(const ReadPoint&) const = default;
};
/// One way to read a toe's stress off the surfaces: on the brace, and on the chord within 45 degrees of the crown and beyond.
struct Reading {
  std::vector<ReadPoint> brace, chord_crown, chord_saddle;
  bool operator==(const Reading&) const = default;
};

/// A weld around a round brace on a round chord. Angles around it count from the fillet's crown, right-handed about the brace.
struct Seam {
  std::string weld;
  int brace = 0, chord = 0;  ///< parts
  shape::FilletAround fillet;
  std::vector<shape::Cut> cuts;  ///< braces beside it
  std::vector<Reading> readings;  ///< the same number at each seam
  bool bare = false;  ///< without weld metal, the brace's end one with the chord, as the equations for stress concentration have it
  bool fused = false;            ///< the root is fused through the brace's wall; else it is a slit from the bore to the root
  double fusion_mm = 0;  ///< so far the weld reaches into the brace's end face from the outer surface; less than the wall. 0: to the root line
  /// A part of the brace's end is weld metal, and the rest of its face open.
  bool fused_in_part() const { return fusion_mm > 0 && !fused && !bare; }
  bool operator==(const Seam&) const = default;
};

/// A part is sawn off here, square, and its end moves as a rigid body.
struct End {
  int part = 0;
  Vec3 at{0, 0, 0}, out{0, 0, 0};  ///< middle of the section, and the unit vector that leads away from the joint
  bool operator==(const End&) const = default;
};

/// A node of the frame inside the joint: loads there go to its part's wall around it.
struct Seat {
  int part = 0;
  Vec3 at{0, 0, 0};
  bool operator==(const Seat&) const = default;
};

struct JointTask {
  std::vector<shape::Part> parts;
  std::vector<Seam> seams;
  std::vector<End> ends;  ///< at least two; the first is held
  std::vector<Seat> seats;
  Elastic steel{206000, 0.3};
  double size = 0.75;  ///< of an element at toes and roots, in thinner walls
  bool operator==(const JointTask&) const = default;
};

}  // namespace seamwright::solid
