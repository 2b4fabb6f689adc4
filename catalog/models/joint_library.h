// SPDX-License-Identifier: GPL-3.0-or-later
// A design's joint models, through a modeller.
#pragma once

#include "catalog/models/modeller.h"
#include "engine/solid/joint_models.h"

namespace seamwright::models {

/// Works out what is not kept. Throws what Modeller::work() throws.
solid::JointLibrary joint_library(Modeller& modeller, const solid::FrameJoints& joints, const rating::Progress& progress);

/// Adds what was answered to a joint's task.
void add_answer(const solid::FrameJoint& joint, const Answer& answer, solid::JointLibrary& library);

/// Those of the joints that come with the program.
solid::JointLibrary shipped_joints(const solid::FrameJoints& joints);

}  // namespace seamwright::models
