// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/models/joint_library.h"

#include <map>

#include "catalog/models/shipped.h"
#include "catalog/models/wire.h"
#include "engine/rating/progress.h"

namespace seamwright::models {

solid::JointLibrary joint_library(Modeller& modeller, const solid::FrameJoints& joints, const rating::Progress& progress) {
  // Joints that are alike are worked out once.
  const std::vector<solid::FrameJoint> all = solid::joints_to_model(joints.joints);
  std::vector<Task> tasks;
  std::map<std::string, std::size_t> number_of;
  std::vector<std::size_t> task_of_joint;
  for (const solid::FrameJoint& j : all) {
    const auto [place, fresh] = number_of.try_emplace(bytes_of(Task(j.task)), tasks.size());
    if (fresh) tasks.emplace_back(j.task);
    task_of_joint.push_back(place->second);
  }
  const std::vector<Answer> answers = modeller.work(tasks, progress);
  solid::JointLibrary out;
  for (std::size_t i = 0; i < all.size(); ++i) add_answer(all[i], answers[task_of_joint[i]], out);
  return out;
}

void add_answer(const solid::FrameJoint& joint, const Answer& answer, solid::JointLibrary& library) {
  if (const auto* good = std::get_if<solid::JointAnswer>(&answer)) {
    if (!library.find(joint.task)) library.models.emplace_back(joint.task, *good);
  } else if (const auto* failed = std::get_if<Failed>(&answer)) {
    if (!library.why_failed(joint.task)) library.failed.emplace_back(joint.task, failed->why);
  }
}

solid::JointLibrary shipped_joints(const solid::FrameJoints& joints) {
  solid::JointLibrary out;
  for (const solid::FrameJoint& joint : solid::joints_to_model(joints.joints))
    if (const auto answer = shipped_answer(bytes_of(Task(joint.task)))) add_answer(joint, *answer, out);
  return out;
}

}  // namespace seamwright::models
