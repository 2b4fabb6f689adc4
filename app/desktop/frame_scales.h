// SPDX-License-Identifier: GPL-3.0-or-later
// The scales beside a frame: what its hues mean, in figures.
#pragma once

#include <QRect>

#include "reports/content/frame_drawing.h"

class QPainter;

namespace seamwright::desktop {

/// The hue of the bands with its ends in figures, at the upper right.
void paint_used_scale(QPainter& painter, const QRect& area);
/// The hue along the members, at the same place.
void paint_stress_scale(QPainter& painter, const QRect& area, const reports::FrameMotion& rest);

}  // namespace seamwright::desktop
