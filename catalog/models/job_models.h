// SPDX-License-Identifier: GPL-3.0-or-later
// A job gets the models of its joints, as far as the user's workers give them.
#pragma once

#include "engine/rating/job.h"
#include "engine/rating/progress.h"

namespace seamwright::models {

/// Works out what is not known yet. Without a worker the equations go on, and the rating says why. scaled: for designs that differ
/// from the job's, whose joints may be scaled from like ones.
void add_joint_models(rating::Job& job, const rating::Progress& progress, bool scaled = false);

}  // namespace seamwright::models
