// SPDX-License-Identifier: GPL-3.0-or-later
// Rider and payload act at these nodes of a design. Plain data.
#pragma once

#include <string>
#include <vector>

#include "engine/frame/frame.h"

namespace seamwright::loads {

struct Carriers {
  std::string saddle_node, pedal_node;
  std::vector<std::string> bar_nodes;
  std::vector<std::string> box_nodes;  ///< nodes that carry the payload: one, or three and more
  frame::Vec3 payload_centre_mm{0, 0, 0};
  bool operator==(const Carriers&) const = default;
};

}  // namespace seamwright::loads
