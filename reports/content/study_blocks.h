// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "engine/fatigue/fit.h"
#include "engine/study/comparison.h"
#include "engine/study/influence.h"
#include "engine/study/suggest.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// A place of the design that differs, as written; "" where it is not there.
struct DesignDifference {
  std::string place, first, second;
};
struct CompareReport {
  study::Comparison welds;
  std::vector<DesignDifference> differences;
  std::string first, second;                           ///< names
  std::vector<std::pair<std::string, Message>> notes;  ///< weld, and what a finding on it means
  double first_kg = 0, second_kg = 0, first_chance = 0, second_chance = 0;
  rating::Verdict verdict = rating::Verdict::meets;  ///< of the second
};
Document compare_document(const CompareReport& report);

Document influence_document(const study::Influences& influences);
Document suggest_document(const std::string& weld, const std::vector<study::Suggestion>& suggestions);

/// A fitted curve with its plot; lines drawn through the tests' ranges.
Document fit_document(const fatigue::Fit& fit, const fatigue::FitWish& wish,
                      const std::vector<fatigue::Test>& tests);

}  // namespace seamwright::reports
