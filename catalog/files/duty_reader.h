// SPDX-License-Identifier: GPL-3.0-or-later
// Reading of a duty: TOML to the engine's plain data.
#pragma once

#include <string>
#include <vector>

#include "catalog/files/source.h"
#include "catalog/published/published_data.h"
#include "engine/rating/job.h"

namespace seamwright::files {

struct DutyFile {
  design::Identity identity;
  loads::Duty duty;
  cycles::RangeModel range_model = cycles::RangeModel::dirlik;
  rules::Rules rules;
  bool inside_stated = false;  ///< rules.environment_inside is the duty's own
  std::vector<Message> assumptions;       ///< values left to their stated defaults
  std::vector<Message> peak_assumptions;  ///< the same of the peak cases
};
DutyFile read_duty(const SourceFile& file, const published::Catalog& catalog);
DutyFile read_duty_text(const SourceFile& file, const std::string& content,
                        const published::Catalog& catalog);

}  // namespace seamwright::files
