// SPDX-License-Identifier: GPL-3.0-or-later
// A second design beside the first: both rated, weld by weld, with what differs in their files.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "catalog/files/difference.h"
#include "engine/study/comparison.h"

namespace seamwright::files {

/// A job and the text of its design, which may be unsaved; the path is for messages.
struct ComparedJob {
  const rating::Job& job;
  std::string design_path, design_text;
};
struct ComparedJobs {
  std::string first, second;  ///< names
  study::RatedPair rated;
  std::vector<Difference> differences;                   ///< of the designs
  std::vector<std::pair<std::string, Message>> notes{};  ///< weld, and what a finding on it means
};
/// Throws what rating::rate() throws, a Fault of the first job placed in its design, and Fault
/// "study.nothing-common" when no weld has the same id.
ComparedJobs compare_jobs(const ComparedJob& first, const ComparedJob& second, rating::Method method,
                          const rating::Progress& progress);

}  // namespace seamwright::files
