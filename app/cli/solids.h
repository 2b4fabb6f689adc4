// SPDX-License-Identifier: GPL-3.0-or-later
// Views of the frame for sheets and plots.
#pragma once

#include <initializer_list>

#include "reports/content/frame_drawing.h"

namespace seamwright::design {
struct Design;
}

namespace seamwright::cli {

/// The frame's views by the kernel; none where there is no worker: then double lines take their place. Its notes say so.
reports::DrawnViews drawn_views(const design::Design& design, std::initializer_list<const char*> names);

}  // namespace seamwright::cli
