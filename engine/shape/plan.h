// SPDX-License-Identifier: GPL-3.0-or-later
// The design becomes its parts: which tube runs through, where each is sawn, where its weld lies. A pure
// function of the design.
#pragma once

#include <map>
#include <string>

#include "engine/design/design.h"
#include "engine/shape/part.h"

namespace seamwright::shape {

/// The plan of a frame, parts in the order of its members, then sleeves, then plates; weld bodies in the order
/// of its welds. A tube ends:
/// - on its chord: coped to the chord's outer surface; a chord that ends at its node runs on past the feet
///   that stand there by twice the largest throat, where the design gives no overhang;
/// - at a mitre: in the plane that halves the angle between the two tubes;
/// - at a plate: slotted over it along the weld line;
/// - otherwise square, at its node.
/// Of braces on one chord that would lie in each other the one named by the joint's `through` goes first, then
/// the larger, then the thicker, then the earlier in the design; the others are cut by it.
/// Notes: "shape.weld-not-drawn", "shape.butt-not-drawn" (weld), "shape.notch-not-drawn" (notch), "shape.plate-without-outline" (weld).
/// Sound names are presumed (frame::check_parts). Members of no length are left out.
Plan plan_of(const design::Design& design);

/// Length of a member's last straight stretch at its start or end, mm: no more can be taken off there. 0 where it has none.
double end_stretch_mm(const frame::Frame& frame, const frame::Member& member, bool at_start);

}  // namespace seamwright::shape
