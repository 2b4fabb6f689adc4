// SPDX-License-Identifier: GPL-3.0-or-later
// A design's joints with the points at which each set of rules reads the stress at a toe.
#pragma once

#include "engine/rules/rule_set.h"
#include "engine/solid/frame_joints.h"

namespace seamwright::sites {

/// Readings stand in the order in which rules::rule_sets first has them.
solid::FrameJoints frame_joints(const design::Design& design);
/// The place of a rule's reading among them.
std::size_t reading_number(const rules::HotSpotRule& rule);

}  // namespace seamwright::sites
