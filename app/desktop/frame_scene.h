// SPDX-License-Identifier: GPL-3.0-or-later
// All that is seen of a frame, as one plain value: whoever paints it, shaded or in lines, reads this one, so
// that a change of painter keeps place, choice, section and motion.
#pragma once

#include <memory>

#include "reports/content/frame_bands.h"
#include "reports/content/frame_picture.h"

namespace seamwright::desktop {

/// The one hue tells this: life used, as bands at the welds, or stress, along the members and without bands.
enum class FrameHue { life, stress };

struct FrameScene {
  reports::FrameDrawing drawing;
  reports::FrameView view;
  reports::FrameLook look;
  FrameHue hue = FrameHue::life;
  const reports::FrameMotion* rest = nullptr;  ///< with the stresses under the payload; null before a rating
  bool all_flags = false;                      ///< on request; else the few that matter
  reports::FrameMesh mesh;
  reports::FrameBands bands;
  /// These count the changes of what a graphics card keeps: bodies, their motion and bands, their paint.
  int mesh_version = 0, moves_version = 0, paint_version = 0;

  bool shows_stress() const { return hue == FrameHue::stress && rest; }
};

}  // namespace seamwright::desktop
