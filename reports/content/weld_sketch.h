// SPDX-License-Identifier: GPL-3.0-or-later
// The joint of a weld cut along both axes, to scale, from the design's own tubes at their angle, with the weld's symbol of ISO 2553.
#pragma once

#include <optional>

#include "engine/design/design.h"
#include "engine/qualification/stated_procedure.h"
#include "reports/content/picture.h"

namespace seamwright::reports {

struct WeldSketch {
  Picture picture;
  double reduction = 1;  ///< 2: drawn to 1:2
};

/// Draws a fillet around a brace on a chord; nothing for other welds. The passes stand numbered in the fillet of the acute side. The symbol (system
/// A: on the continuous line, arrow side) is the fillet with its throat thickness, all round; over a single bevel where the design counts on a
/// fused root.
std::optional<WeldSketch> weld_sketch(const design::Design& design, const joints::Weld& weld, const qualification::Sheet& sheet);

}  // namespace seamwright::reports
