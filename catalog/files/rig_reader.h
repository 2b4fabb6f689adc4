// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "catalog/files/source.h"
#include "catalog/published/published_data.h"
#include "engine/measured/rig_rating.h"

namespace seamwright::files {

/// Reads a rig file (format "seamwright.rig/1") for a job: its own cases, and published ones by their ids,
/// whose forces the catalog gives and whose fixings the file states. Published cases that do not fit a
/// steered box axle come back as not applicable. Throws the reader's Faults.
std::vector<measured::RigCase> read_rigs(const SourceFile& file, const rating::Job& job,
                                         const published::Catalog& catalog);

}  // namespace seamwright::files
