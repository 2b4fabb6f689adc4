// SPDX-License-Identifier: GPL-3.0-or-later
// A frame's joints as bodies of their own: what belongs to each, where its members are sawn off, and the task for its model. A
// pure function of the design.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "engine/design/design.h"
#include "engine/shape/part.h"
#include "engine/solid/joint_task.h"

namespace seamwright::solid {

/// A stretch of a member that lies in a joint, along its axis from its first node; beyond the ends of its axis where the tube goes on.
struct Inside {
  std::string member;
  double from_mm = 0, to_mm = 0;
  bool sawn_before = false, sawn_after = false;  ///< the member goes on there
};

/// An end of the joint's task: which member goes on there, and towards its first node (true) or its last.
struct Sawn {
  std::string member;
  bool towards_start = false;
  double at_mm = 0;  ///< along the member's axis
};

struct FrameJoint {
  std::string id;  ///< its first node
  std::vector<std::string> nodes;  ///< in the order of the design; the task's seats are theirs
  std::vector<std::string> welds;  ///< in the order of the task's seams
  std::vector<Inside> inside;
  std::vector<Sawn> ends;  ///< in the order of the task's ends
  frame::Vec3 origin_mm{0, 0, 0};
  /// Rows: the task's axes in the frame's. Left-handed for a joint that is solved as its mirror image: forces turn with them, moments
  /// with them and their sign, angles around a seam count the other way.
  Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();
  bool mirrored() const { return axes.determinant() < 0; }
  JointTask task;
  std::vector<std::string> part_names;  ///< of the task's parts, in the design
};

/// An angle around a seam of a joint's task, in the frame, degrees from 0 to below 360.
double angle_in_frame(const FrameJoint& joint, double angle_deg);

/// A weld that stands in no joint's model, and why.
struct Unmodelled {
  std::string weld;
  Message why;
};

struct FrameJoints {
  std::vector<FrameJoint> joints;
  std::vector<Unmodelled> without;
};

/// Joints of round tubes on round tubes. Those that are alike, or mirror images of each other, have the same task: parts, cuts and seams
/// go by numbers. A chord is sawn off two diameters beyond its toes and a brace one, so that the rigid end
/// does not hold the wall round; where neighbours leave less than one and a half and 0.4, they become one joint. These lengths are
/// measured: docs/methods/joints.md. readings: as Seam::readings for brace and chord of a weld.
struct JointOptions {
  double size = 1;
  std::vector<Reading> (*readings)(const shape::Stretch& brace, const shape::Stretch& chord) = nullptr;
};
FrameJoints frame_joints(const design::Design& design, const JointOptions& options);

/// The same joint with open roots: nobody sees through a proof that only some sections gave.
JointTask with_open_roots(const JointTask& task);
/// The joints, and once more with open roots those that have a fused one.
std::vector<FrameJoint> joints_to_model(const std::vector<FrameJoint>& joints);

}  // namespace seamwright::solid
