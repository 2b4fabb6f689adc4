// SPDX-License-Identifier: GPL-3.0-or-later
// Sizes measured on the finished welds take the place of those that the design says. No finding ever makes a
// weld better than drawn.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "catalog/files/difference.h"
#include "catalog/files/measured_reader.h"
#include "engine/inspection/limits.h"
#include "engine/design/design.h"

namespace seamwright::files {

/// The weld that a finding names. Throws Fault "as-built.unknown-weld" with the finding's file and line.
const joints::Weld& found_weld(const std::string& path, const Finding& finding, const design::Design& design);

/// A weld as its inspection takes it. The face of a fillet is twice its throat wide; that of a butt weld is
/// not known from the drawing.
inspection::Weld weld_to_inspect(const design::Design& design, const joints::Weld& weld);

struct AsBuilt {
  std::vector<Difference> changed;                    ///< sizes of welds, and flaws that no size stands for
  std::vector<std::pair<std::string, Message>>
      without_effect;  ///< weld, and what a finding without effect means
};

/// The worst of several findings counts. Throat and leg as measured, 5213 from the design's throat; a throat
/// beyond the design's (5214 too) gives no credit. Undercut (5011, 5012), offset of walls (507, 5071, 5072),
/// cap (502, 503) and its width. A planar flaw, or one through the wall, rejects its weld; every other number
/// is a flaw that leaves its weld not covered, unless it lies within level B, which the rating presumes. A
/// size of 0 means that nothing was found. Throws Fault "as-built.unknown-weld" with file and line.
AsBuilt apply_as_built(const std::string& path, const std::vector<Finding>& findings, design::Design& design);

}  // namespace seamwright::files
