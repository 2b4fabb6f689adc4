// SPDX-License-Identifier: GPL-3.0-or-later
// A weld's place is worked out here: the brace leaving the node, the chord through it, and the directions
// around the seam.
#pragma once

#include <string_view>
#include <unordered_map>

#include "engine/design/design.h"

namespace seamwright::design {

/// Geometry of one weld; directions are unit vectors in global axes.
struct Seat {
  frame::Vec3 brace{0, 0, 0};      ///< brace axis as it leaves the node
  frame::Vec3 crown{0, 0, 0};      ///< direction of the crown on the chord's start side, across the brace
  frame::Vec3 side{0, 0, 0};       ///< brace x crown: direction of 90 degrees
  frame::Vec3 chord_out{0, 0, 0};  ///< outward normal of the chord below the brace
  double angle_deg = 90;           ///< between the axes
  double chord_length_mm = 0;      ///< of the whole chord member
};

frame::Vec3 position_of(const frame::Frame& frame, const std::string& node);
/// The flexible part of a member begins or ends here: with its offset, less its cut.
frame::Vec3 end_position(const frame::Frame& frame, const frame::Member& member, bool at_start);
/// Direction of the chord at the weld's node, from its start to its end.
frame::Vec3 chord_direction(const frame::Frame& frame, const joints::Weld& weld);

/// Length of a member through its nodes, mm.
double member_length_mm(const frame::Frame& frame, const frame::Member& member);
/// Throws Fault "rating.parallel-weld" when brace and chord lie in one line.
Seat seat_of(const frame::Frame& frame, const joints::Weld& weld);

const frame::Member& member_of(const frame::Frame& frame, const std::string& id);
const frame::Tube& tube_of(const frame::Frame& frame, const frame::Member& member);
/// The round tube of a member, or null for other shapes.
const frame::RoundTube* round_tube(const frame::Frame& frame, const std::string& member);

/// Thinnest wall of what a weld joins, mm: brace, chord, plate, other tube; infinite where all are solid.
double thinnest_wall_mm(const frame::Frame& frame, const joints::Weld& weld);

/// The same for many welds of one frame, whose nodes and members are found at once. The frame stays where it is.
class FrameIndex {
 public:
  explicit FrameIndex(const frame::Frame& frame);
  /// Throws Fault "frame.unknown-node".
  const frame::Vec3& position_of(const std::string& node) const;
  /// Throws Fault "rating.unknown-member".
  const frame::Member& member_of(const std::string& id) const;
  /// Null for other shapes. Throws Fault "frame.unknown-tube" too.
  const frame::RoundTube* round_tube(const std::string& member) const;
  double member_length_mm(const frame::Member& member) const;
  /// Throws Fault "rating.parallel-weld" when brace and chord lie in one line.
  Seat seat_of(const joints::Weld& weld) const;

 private:
  const frame::Frame& frame_;
  std::unordered_map<std::string_view, const frame::Node*> nodes_;
  std::unordered_map<std::string_view, const frame::Member*> members_;
};

/// The frame with each welded member's ends cut back to the surface of the round chord it is welded to (chord
/// radius over the sine of the angle), so that moments are read where the brace meets the chord.
frame::Frame frame_with_cuts(const Design& design);

}  // namespace seamwright::design
