// SPDX-License-Identifier: GPL-3.0-or-later
// The demonstration job, read once.
#pragma once

#include <string>

#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/rating/job.h"

namespace seamwright::reports {

inline const std::string demo_path = SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike";

inline const rating::Job& demo() {
  static const rating::Job job = files::read_job(demo_path, "", published::catalog());
  return job;
}

}  // namespace seamwright::reports
