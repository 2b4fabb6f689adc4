// SPDX-License-Identifier: GPL-3.0-or-later
// Drawings in true scale onto pages: several on one, or one over several with crosses to join them by.
#pragma once

#include <vector>

#include "reports/content/border_labels.h"
#include "reports/content/picture.h"

namespace seamwright::reports {

/// Room for drawings that A4 and Letter both have between their margins, below head and above foot, mm.
constexpr double sheet_wide_mm = 180, sheet_high_mm = 204;
/// Length of the bar at the bottom of each page, to check the printer by, mm.
constexpr double scale_bar_mm = 100;
/// Tiles of one drawing share this on each side of the line between them, mm.
constexpr double tile_overlap_mm = 6;

/// A quarter turn: what led to the right leads up; words too.
Picture turned(const Picture& picture);

/// A window of the picture, moved to the origin. Lines end at its edge; words go with the tile
/// that holds their anchor.
Picture window_of(const Picture& picture, const Point& from, double width_mm, double height_mm);

/// The picture where it was, of the same size, with nothing left outside the window.
Picture cropped(const Picture& picture, const Rectangle& window);
/// All of a drawing into a page, its origin there.
void add_drawing(Picture& page, const Picture& drawing, const Point& at);

/// The drawing in pieces no larger than a page: itself, turned where only that fits, or tiles. On the line
/// between two tiles both have the same crosses, and a dashed line to cut one of them on.
std::vector<Picture> tiles_of(const Picture& picture);

/// All pieces in their order on as many pages as they need, beside and below each other, a scale bar at the
/// bottom of each.
std::vector<Picture> pages_of(const std::vector<Picture>& drawings);

}  // namespace seamwright::reports
