// SPDX-License-Identifier: GPL-3.0-or-later
// Views of the frame and of its joints for sheets and plots.
#pragma once

#include <initializer_list>

#include "reports/content/frame_drawing.h"
#include "reports/content/joint_drawing.h"

namespace seamwright::cli {

/// The frame's views by the kernel; none where there is no worker: then double lines take their place. Its notes say so.
reports::DrawnViews drawn_views(const design::Design& design, std::initializer_list<const char*> names);

/// A weld's joint by the kernel; without views where there is no worker.
reports::DrawnJoint drawn_joint(const design::Design& design, const std::string& weld);

}  // namespace seamwright::cli
