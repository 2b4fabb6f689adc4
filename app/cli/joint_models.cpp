// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/joint_models.h"

#include "app/cli/progress_bar.h"
#include "catalog/models/job_models.h"
#include "reports/text/text.h"

namespace seamwright::cli {

void add_equations(CLI::App& command, bool& equations) {
  command.add_flag("--equations", equations, "joints by equations alone, without their finite-element models");
}

void add_joint_models(rating::Job& job, reports::Language language, Variants variants) {
  Bar bar({reports::sentence({"progress.joints", {}}, language),
           std::string(reports::sentence_template("progress.left", language))});
  models::add_joint_models(job, bar.progress(), variants == Variants::scaled);
}

std::function<void(rating::Job&)> joints_to_add(bool equations, reports::Language language) {
  if (equations) return {};
  return [language](rating::Job& job) { add_joint_models(job, language); };
}

}  // namespace seamwright::cli
