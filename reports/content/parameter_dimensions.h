// SPDX-License-Identifier: GPL-3.0-or-later
// A parameter of a design is shown by a distance of its frame.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "catalog/files/parameter_reach.h"

namespace seamwright::frame {
struct Frame;
}

namespace seamwright::reports {

struct ParameterDimension {
  std::string parameter;
  double value = 0;
  int axis = -1;                          ///< of the design; -1: no distance shows it
  Eigen::Vector3d from{0, 0, 0}, to{0, 0, 0};  ///< apart by the value along the axis
  bool both_sides = false;                 ///< between mirror images: twice the value
};

/// A node that moves with a parameter, a mm for each of its mm along an axis, against its mirror image where the two
/// part; else against a node, or one of the planes through the origin, that stays and from which it is as far as the
/// parameter says. Of several, the pair nearest to an edge of the frame, where its dimension stands.
std::vector<ParameterDimension> parameter_dimensions(const frame::Frame& frame,
                                                     const std::vector<files::ParameterReach>& reaches);

}  // namespace seamwright::reports
