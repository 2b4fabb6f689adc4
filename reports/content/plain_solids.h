// SPDX-License-Identifier: GPL-3.0-or-later
// Bodies of a drawing by elementary geometry: tubes from node to node, mitred at bends, and a bead at every
// weld. They stand for the frame until its own bodies have been worked out.
#pragma once

#include "engine/shape/solid.h"
#include "reports/content/frame_drawing.h"

namespace seamwright::reports {

/// Each member's stretches as round tubes through its nodes, not trimmed where they meet; meshes alone, no
/// quantities.
shape::FrameSolids plain_solids(const FrameDrawing& drawing);

}  // namespace seamwright::reports
