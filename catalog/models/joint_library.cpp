// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/models/joint_library.h"

#include "engine/rating/progress.h"

namespace seamwright::models {

solid::JointLibrary joint_library(Modeller& modeller, const solid::FrameJoints& joints, const rating::Progress& progress) {
  std::vector<Task> tasks;
  for (const solid::FrameJoint& j : joints.joints) tasks.emplace_back(j.task);
  std::vector<Answer> answers = modeller.work(tasks, progress);
  solid::JointLibrary out;
  for (std::size_t i = 0; i < answers.size(); ++i) {
    const solid::FrameJoint& joint = joints.joints[i];
    if (auto* answer = std::get_if<solid::JointAnswer>(&answers[i]))
      out.models.emplace_back(joint.task, std::move(*answer));
    else if (const auto* failed = std::get_if<Failed>(&answers[i]))
      out.failed.push_back({"joint.failed", {text("node", joint.id), text("why", failed->why)}});
  }
  return out;
}

}  // namespace seamwright::models
