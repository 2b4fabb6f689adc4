// SPDX-License-Identifier: GPL-3.0-or-later
// Jobs with the models of their joints, for commands that rate.
#pragma once

#include "app/cli/commands.h"
#include "engine/rating/job.h"

namespace seamwright::cli {

/// --equations: whoever asks for it does without models.
void add_equations(CLI::App& command, bool& equations);

/// Designs that differ from the job's: their joints are its own, or may be scaled from like ones of it.
enum class Variants { none, scaled };

/// Works out the models that are not known yet, with a bar. Without a worker the equations go on, and the rating says why.
void add_joint_models(rating::Job& job, reports::Language language, Variants variants = Variants::none);

/// The same for who reads the job himself; nothing where equations are asked for.
std::function<void(rating::Job&)> joints_to_add(bool equations, reports::Language language);

}  // namespace seamwright::cli
