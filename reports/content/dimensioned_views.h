// SPDX-License-Identifier: GPL-3.0-or-later
// Views of the frame in a standard scale, with dimension lines.
#pragma once

#include <string>
#include <vector>

#include "reports/content/frame_drawing.h"
#include "reports/content/parameter_dimensions.h"
#include "reports/content/picture.h"

namespace seamwright::reports {

/// Room for a drawing that A4 and Letter, landscape, both have below the head and above the foot of a page, mm.
constexpr double landscape_wide_mm = 248, landscape_high_mm = 146;

/// The reductions of ISO 5455 [from memory], the largest drawing first.
constexpr int reductions[] = {1, 2, 5, 10, 20, 50, 100};

struct DimensionedView {
  std::string name;
  int reduction = 1;  ///< a mm of the picture for so many of the frame
  Picture picture;
  bool overall = false;  ///< has a dimension over all
};

/// Side, top and front with the parameters that are distances and, where there are bodies, the overall length,
/// height and width, all in the largest scale in which each has room on its page; and an oblique view in its own.
std::vector<DimensionedView> dimensioned_views(const FrameDrawing& drawing,
                                               const std::vector<ParameterDimension>& dimensions);

/// A length as it stands over a dimension line: whole mm, or tenths where there are some.
Cell millimetres(double value_mm);

}  // namespace seamwright::reports
