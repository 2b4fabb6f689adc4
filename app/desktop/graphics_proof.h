// SPDX-License-Identifier: GPL-3.0-or-later
// The graphics of this display, as far as the shaded view needs them, tried out and not believed.
#pragma once

#include <QSurfaceFormat>

namespace seamwright::desktop {

struct Graphics {
  bool works = false;
  bool software = false;  ///< pictures are worked out by the processor
  bool embedded = false;  ///< the dialect for small devices
  QSurfaceFormat format;  ///< with which it worked
};

/// Makes a context and asks it, once for a process. Needs the application. Platforms without graphics, as
/// those without a display, have none.
const Graphics& proven_graphics();

}  // namespace seamwright::desktop
