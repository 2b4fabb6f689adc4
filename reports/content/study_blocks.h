// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "catalog/files/compared_jobs.h"
#include "engine/fatigue/fit.h"
#include "engine/study/influence.h"
#include "engine/study/suggest.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

Document compare_document(const files::ComparedJobs& jobs);
/// The comparison as it fits a screen: verdict, the five welds that last shortest in the second, masses.
Document brief_compare_document(const files::ComparedJobs& jobs);

/// The table of variants that a run wrote: its file, how many rows it has, and the cells to be shown, the
/// head first.
Document sweep_document(const std::string& csv, std::size_t rows,
                        const std::vector<std::vector<std::string>>& cells);

Document influence_document(const study::Influences& influences);
Document suggest_document(const std::string& weld, const std::vector<study::Suggestion>& suggestions);

/// A fitted curve with its plot; lines drawn through the tests' ranges.
Document fit_document(const fatigue::Fit& fit, const fatigue::FitOptions& options,
                      const std::vector<fatigue::Test>& tests);

}  // namespace seamwright::reports
