// SPDX-License-Identifier: GPL-3.0-or-later
// A table of variants, over all cores, resumable, in parts.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "catalog/sweeps/sweep_reader.h"
#include "engine/study/sweep.h"

namespace seamwright::sweeps {

struct SweepRun {
  std::string job;  ///< folder or design file
  std::string csv;  ///< the table; what is done so far stands in csv + ".part", and a run goes on there
  std::size_t threads = 0;                                 ///< 0 = one per processor
  std::size_t part = 1, parts = 1;                         ///< every parts-th variant from the part-th on
  bool discard = false;                                    ///< rows of another sweep in the journal go
  std::function<std::string(const Message&)> sentence_of{};  ///< why a variant is impossible, for its row
  std::shared_ptr<const solid::JointLibrary> joint_models{};  ///< of the job as it stands; null: by equations
};
/// Writes the table whole and in the order of the numbers, whatever the threads did, and, of a sweep in one part,
/// its database beside it; the number of its rows. Throws the readers' Faults, "sweep.other-journal", std::runtime_error when the table or its journal cannot be written or another
/// run writes it, rating::RatingStopped; what was done stays in the journal.
std::size_t run_sweep(const Sweep& sweep, const SweepRun& run, const rating::Progress& progress);

/// The cells of a table that a run wrote, its head first, no more than `most` lines. Throws Fault "file.*"
/// when it cannot be read.
std::vector<std::vector<std::string>> sweep_cells(const std::string& csv, std::size_t most);

}  // namespace seamwright::sweeps
