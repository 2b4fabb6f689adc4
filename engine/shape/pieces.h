// SPDX-License-Identifier: GPL-3.0-or-later
// A frame's members as straight pieces of tube: what geometry can be asked about them.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "engine/frame/section.h"
#include "engine/joints/weld.h"
#include "engine/shape/cylinder.h"

namespace seamwright::frame {
struct Frame;
}

namespace seamwright::shape {

/// A node on a piece: the place that nodes at one spot share (two nodes of a hinge are one place), and its
/// distance from the piece's start, mm.
struct Stop {
  std::size_t place = 0;
  double at_mm = 0;
};

/// A straight stretch of one member between its ends or bends.
struct Piece {
  std::size_t member = 0;
  Cylinder body;         ///< along its axis, eccentric ends where they are; radius of the outer surface
  double bore_mm = 0;    ///< inner radius; 0 for bars and plates
  double before_mm = 0;  ///< along the member, from its start to this piece
  double length_mm = 0;
  std::vector<Stop> stops;  ///< in their order
};

/// A member's end is trimmed here, by the wall of the round chord that it is welded onto.
struct Trim {
  std::size_t chord = 0;  ///< a member
  double axis_mm = 0;     ///< from the node to where the axis meets the wall: R / sin(angle)
  double whole_mm = 0;  ///< to where the whole section has left the chord: (R + r |cos(angle)|) / sin(angle)
};

struct Pieces {
  std::vector<Piece> all;                        ///< member by member
  std::vector<std::size_t> first;                ///< of each member, and one past the last
  std::vector<std::vector<std::size_t>> places;  ///< of each member's nodes, in their order
  std::vector<double> length_mm;                 ///< of each member
  std::vector<std::map<bool, Trim>> trims;       ///< of each member: true at its start, false at its end
  std::map<std::string, std::size_t> member_named;
};

/// Nodes in line make one piece (a turn below a tenth of a degree is none). Shapes other than round count
/// with their inscribed circle: what is told about them is certain, a corner may touch all the same. Members
/// of no length, which assembling refuses, have no piece. The frame's names must be sound
/// (frame::check_parts).
Pieces pieces_of(const frame::Frame& frame, const std::vector<joints::Weld>& welds);

/// Outer radius of a section's inscribed circle, and of what is hollow in it, mm.
double outer_radius_mm(const frame::Section& section);
double bore_radius_mm(const frame::Section& section);
/// Thickness of the wall; a bar's radius.
double thickness_mm(const frame::Section& section);

}  // namespace seamwright::shape
