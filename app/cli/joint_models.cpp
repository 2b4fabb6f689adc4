// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/joint_models.h"

#include <memory>

#include "app/cli/progress_bar.h"
#include "catalog/models/joint_library.h"
#include "catalog/models/user_modeller.h"
#include "engine/rating/progress.h"
#include "engine/sites/joint_readings.h"
#include "reports/text/text.h"

namespace seamwright::cli {

void add_equations(CLI::App& command, bool& equations) {
  command.add_flag("--equations", equations, "joints by equations alone, without their finite-element models");
}

void add_joint_models(rating::Job& job, reports::Language language, Variants variants) {
  solid::JointLibrary library;
  try {
    Bar bar({reports::sentence({"progress.joints", {}}, language),
             std::string(reports::sentence_template("progress.left", language))});
    models::UserJoints modeller;
    library = models::joint_library(modeller, sites::frame_joints(job.design), bar.progress());
  } catch (const Fault& fault) {
    if (fault.category != Category::machine) throw;
    library.unavailable = fault.message;
  }
  library.scale_like = variants == Variants::scaled;
  job.joint_models = std::make_shared<const solid::JointLibrary>(std::move(library));
}

std::function<void(rating::Job&)> joints_to_add(bool equations, reports::Language language) {
  if (equations) return {};
  return [language](rating::Job& job) { add_joint_models(job, language); };
}

}  // namespace seamwright::cli
