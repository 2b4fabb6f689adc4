// SPDX-License-Identifier: GPL-3.0-or-later
// The trike with its front frame turned about the steering pivot.
#pragma once

#include <string>

#include "engine/frame/frame.h"

namespace seamwright::loads {

/// The steering as the design states it: the pivot, and how far it turns to either side before the stop.
struct Steering {
  std::string hinge;  ///< "" = the design states none
  double left_deg = 0, right_deg = 0;
  bool operator==(const Steering&) const = default;
};

/// The frame with the part of the front wheels turned about the hinge's axis by an angle, positive to the
/// left (right-handed about an axis that points up): nodes, masses on them, directions of members, headings
/// of wheels. Links are drawn anew between their ends. Throws Fault "loads.no-steering" without a hinge,
/// "loads.beyond-stop" for an angle outside the stops, "loads.not-steered" when the front wheels do not hang
/// on one side of the hinge alone.
frame::Frame steered_frame(const frame::Frame& frame, const Steering& steering, double angle_deg);

}  // namespace seamwright::loads
