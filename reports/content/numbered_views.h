// SPDX-License-Identifier: GPL-3.0-or-later
// Views on paper in which every weld has its number: the whole frame, or where that is too small, its parts.
#pragma once

#include <vector>

#include "reports/content/frame_picture.h"

namespace seamwright::reports {

/// A view of the whole frame with the numbers of all flags around it; where it is too small for them, larger views of
/// its parts, each with the numbers of its own.
std::vector<FramePicture> numbered_views(const FrameDrawing& drawing, const FrameView& view, double width_mm,
                                         double height_mm);
/// The ids that have a number in one of the pictures.
std::set<std::string> numbered_in(const std::vector<FramePicture>& pictures);

}  // namespace seamwright::reports
