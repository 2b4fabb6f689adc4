// SPDX-License-Identifier: GPL-3.0-or-later
// A table of variants, over all cores, resumable, in parts.
#pragma once

#include <functional>
#include <string>

#include "catalog/files/sweep_reader.h"
#include "engine/rating/rate.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// More variants than this are not begun without a question.
inline constexpr std::size_t ask_above = 10000;

struct SweepRun {
  std::string job;  ///< folder or design file
  std::string csv;  ///< the table; what is done so far stands in csv + ".part", and a run goes on there
  std::size_t threads = 0;                         ///< 0 = one per processor
  std::size_t part = 1, parts = 1;                 ///< every parts-th variant from the part-th on
  std::function<std::string(const Message&)> say;  ///< why a variant is impossible, for its row
};
/// The number of rows written. Throws the readers' Faults, std::runtime_error when the table or its journal
/// cannot be written or another run writes it, rating::Stopped; what was done stays in the journal.
std::size_t run_sweep(const files::Sweep& sweep, const SweepRun& run, const rating::Progress& progress);

/// The table that a run wrote, its first hundred rows. Throws Fault "file.*" when it cannot be read.
Document sweep_document(const std::string& csv, std::size_t rows);

}  // namespace seamwright::reports
