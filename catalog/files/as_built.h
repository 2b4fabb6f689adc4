// SPDX-License-Identifier: GPL-3.0-or-later
// What was measured on the finished welds, put in place of what the design says.
#pragma once

#include <string>
#include <vector>

#include "catalog/files/difference.h"
#include "engine/rating/job.h"

namespace seamwright::files {

/// Table with a column `weld` and any of throat_mm, leg_mm, undercut_mm, offset_mm, cap_mm and cap_width_mm
/// (butt welds). An empty cell was not measured. Changes the design and tells what changed. Throws Fault
/// "as-built.unknown-weld", "as-built.twice", "file.out-of-range-cell" and those of read_small_table().
std::vector<Difference> apply_as_built(const std::string& path, rating::Design& design);

}  // namespace seamwright::files
