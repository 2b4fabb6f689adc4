// SPDX-License-Identifier: GPL-3.0-or-later
// Models of joints as a rating uses them: found by their tasks, so that a changed design never meets another's numbers.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "engine/frame/frame.h"
#include "engine/solid/frame_joints.h"
#include "engine/solid/joint_answer.h"

namespace seamwright::solid {

/// All that was worked out, each answer with its task.
struct JointLibrary {
  std::vector<std::pair<JointTask, JointAnswer>> models;
  std::vector<std::pair<JointTask, std::string>> failed;  ///< without an answer, and why, in the words of who failed: parts as "#3"
  std::optional<Message> unavailable;  ///< nothing can be worked out here
  bool scale_like = false;      ///< joints that it does not know answer by like ones (scaled_model.h): for studies that change the design
  const JointAnswer* find(const JointTask& task) const;
  /// The words of who failed; null where nobody tried.
  const std::string* why_failed(const JointTask& task) const;
};
/// "joint.failed" with the joint's own names.
Message failed_message(const FrameJoint& joint, const std::string& why);

/// A joint of a design with its model. The answer lives in the library, or here where it is scaled from another's.
struct ModelledJoint {
  FrameJoint joint;
  const JointAnswer* answer = nullptr;
  std::shared_ptr<const JointAnswer> scaled{};
  double apart = 0;  ///< of the scaled model: see ScaledModel
  const JointAnswer* open = nullptr;  ///< with open roots, where one is fused and that model is known
};
/// Those of the design's joints that the library answers.
std::vector<ModelledJoint> modelled_joints(const FrameJoints& joints, const JointLibrary& library);

/// Forces and moments at the ends, then at the seats, per their displacements, in the task's axes.
Eigen::MatrixXd stiffness_of(const JointTask& task, const JointAnswer& answer);

/// The frame with the joints' bodies in it. The stiffness follows from the flexibility with one end held: the others' motion against
/// it, as a rigid body carries it on, times the inverse. frame: with its cuts, straight.
frame::Frame with_bodies(const frame::Frame& frame, const std::vector<ModelledJoint>& joints);

}  // namespace seamwright::solid
