// SPDX-License-Identifier: GPL-3.0-or-later
// What was measured on the finished welds, put in place of what the design says.
#pragma once

#include <string>
#include <vector>

#include "catalog/files/difference.h"
#include "catalog/files/measured.h"
#include "engine/rating/job.h"

namespace seamwright::files {

/// Takes throat and leg as measured, throats too small or too large (5213, 5214) from the design's, undercut
/// (5011, 5012), offset of walls (507, 5071, 5072), cap (502, 503) and its width; of several findings the
/// worst. Other findings change nothing here. Tells what changed. Throws Fault "as-built.unknown-weld" with
/// file and line.
std::vector<Difference> apply_as_built(const std::string& path, const std::vector<Finding>& findings,
                                       rating::Design& design);

}  // namespace seamwright::files
