// SPDX-License-Identifier: GPL-3.0-or-later
// A single joint as a drawing: seen square to both axes, along its chord, and obliquely.
#pragma once

#include <vector>

#include "engine/design/design.h"
#include "engine/shape/joint_plan.h"
#include "engine/shape/solid.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

struct JointEye {
  MessageId name;
  shape::Vec3 towards, up;
};
/// A joint is seen from there; the first has the chord level and the brace upwards.
std::vector<JointEye> joint_eyes(const shape::JointPlan& joint);

/// A joint with its views by the geometry kernel, one for each eye; empty: there is none.
struct DrawnJoint {
  shape::JointPlan joint;
  std::vector<std::vector<shape::ViewLine>> views;
  std::vector<Message> notes{};  ///< why there are none
};

struct JointPictures {
  int reduction = 1;
  Picture measured;  ///< square to both axes, with sizes, angle and throat
  Picture others;    ///< the other two views side by side
};
/// The pictures in the largest standard scale in which both have room on a page in landscape. Throws Fault
/// "rating.unknown-member" for a weld of another design.
JointPictures joint_pictures(const design::Design& design, const joints::Weld& weld, const DrawnJoint& drawn);

}  // namespace seamwright::reports
