// SPDX-License-Identifier: GPL-3.0-or-later
// One joint of a frame, cut out of its plan: what meets there, sawn off a little further on.
#pragma once

#include <string>
#include <vector>

#include "engine/shape/part.h"

namespace seamwright::design {
struct Design;
}

namespace seamwright::shape {

struct JointPlan {
  Plan plan;           ///< the node at the origin
  double reach_mm = 0;  ///< tubes end so far from the node, where they do not end before
  /// Unit vectors. right: along the chord, or square to the brace where there is none; up: square to it, towards
  /// the brace or plate; brace: where the brace, or the plate, leads to.
  Vec3 right{1, 0, 0}, up{0, 0, 1}, brace{0, 0, 1};
  bool has_angle = false;  ///< between brace and chord
};

/// The members, plates and bodies of weld metal of a weld's joint: all that is welded at its node to its chord.
/// Throws Fault "rating.parallel-weld" where brace and chord lie in one line. The weld's name is presumed.
JointPlan joint_plan(const design::Design& design, const Plan& plan, const std::string& weld);

}  // namespace seamwright::shape
