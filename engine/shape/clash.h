// SPDX-License-Identifier: GPL-3.0-or-later
// Tubes that cannot be where the drawing has them: found from axes, radii and ends, by closed forms.
//
// These are no clash: tubes that meet at a node lie in each other near it, as far as the crotch between them
// at r_b/sin + r_a/tan along a; a welded end is trimmed at its chord's wall; a tube may run in another's
// bore; and two tubes whose nodes a piece no longer than both radii joins are taken as one joint.
#pragma once

#include <string>
#include <vector>

#include "engine/frame/frame.h"
#include "engine/joints/weld.h"

namespace seamwright::shape {

enum class ClashKind {
  same_nodes,    ///< two members of one tube between the same two nodes
  doubled_back,  ///< a member that turns back into itself
  through,       ///< two members that both run on through one node, at an angle
  inside,        ///< two members that meet, one in the other over its whole length
  crossing,      ///< two members that share no node there
  wheel,         ///< a member through the plane of a wheel, within its radius, that is not its axle
};

/// first and second: members (the same for doubled_back; second the wheel for wheel). How far they lie in
/// each other, mm: for crossing and through across the tubes, for the others along them. `where`: a node of
/// the place, "" for crossing.
struct Clash {
  ClashKind kind = ClashKind::crossing;
  std::string first, second, where;
  double overlap_mm = 0;
};

/// Every clash of the frame (of a heap of tubes the first two hundred), by kind, then by depth; each pair
/// once in its kind. Sound names are presumed (frame::check_parts). Pairs are found by a sweep along x: 400
/// members take milliseconds.
std::vector<Clash> clashes(const frame::Frame& frame, const std::vector<joints::Weld>& welds);

/// Throws for the first kind that there is: Fault "shape.same-nodes", "shape.doubled-back", "shape.through",
/// "shape.inside", "shape.crossing" or "shape.wheel", which names the worst pair in mm and lists all of the
/// kind.
void check_clashes(const frame::Frame& frame, const std::vector<joints::Weld>& welds);

}  // namespace seamwright::shape
