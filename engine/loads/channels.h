// SPDX-License-Identifier: GPL-3.0-or-later
// Channels: the inputs to the frame, each as one static solution on the tyres.
#pragma once

#include <string>
#include <vector>

#include "engine/loads/posed_trike.h"

namespace seamwright::loads {

/// "standing" (1 g on frame, rider and payload), "payload" (1 g on the payload alone), and "road-FL",
/// "road-FR", "road-R": the ground under that wheel 1 mm higher.
std::vector<std::string> channel_names(const frame::Frame& frame);

struct ChannelSolution {
  frame::Assembly assembly;
  frame::Solution solution;
};

/// Throws Fault "loads.unknown-channel" and what frame_in(), assemble() and Statics throw.
ChannelSolution solve_channel(const frame::Frame& frame, const Carriers& carriers, const Rider& rider,
                              const Steering& steering, const Pose& pose, const std::string& channel);

}  // namespace seamwright::loads
