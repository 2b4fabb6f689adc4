// SPDX-License-Identifier: GPL-3.0-or-later
// A second design beside the first: both rated, weld by weld, with what differs in their files.
#pragma once

#include "catalog/published/published_data.h"
#include "reports/content/study_blocks.h"

namespace seamwright::reports {

/// A job and the text of its design, which may be unsaved; the path is for messages.
struct ComparedJob {
  const rating::Job& job;
  std::string design_path, design_text;
};
struct Compared {
  rating::Rating first, second;
  CompareReport report;
};
/// Throws what rating::rate() throws, Fault "study.nothing-common" when no weld has the same id.
Compared compared(const ComparedJob& first, const ComparedJob& second, rating::Method method,
                  const rating::Progress& progress);

}  // namespace seamwright::reports
