// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/models/job_models.h"

#include <memory>

#include "catalog/models/joint_library.h"
#include "catalog/models/user_modeller.h"
#include "engine/sites/joint_readings.h"

namespace seamwright::models {

void add_joint_models(rating::Job& job, const rating::Progress& progress, bool scaled) {
  solid::JointLibrary library;
  try {
    UserJoints modeller;
    library = joint_library(modeller, sites::frame_joints(job.design), progress);
  } catch (const Fault& fault) {
    if (fault.category != Category::machine) throw;
    library.unavailable = fault.message;
  }
  library.scale_like = scaled;
  job.joint_models = std::make_shared<const solid::JointLibrary>(std::move(library));
}

}  // namespace seamwright::models
