// SPDX-License-Identifier: GPL-3.0-or-later
// Blocks as slices: pieces of a page that are never cut, in the order in which they are read.
#pragma once

#include <QPainter>
#include <functional>
#include <memory>
#include <vector>

#include "reports/content/blocks.h"
#include "reports/text/text.h"

namespace seamwright::reports {

/// Painted at its upper left corner; lengths in dots.
struct Slice {
  double height = 0;
  bool keep = false;      ///< on the page of the next one
  bool new_page = false;  ///< begins one
  std::function<void(QPainter&, const QPointF&)> paint;
  std::shared_ptr<const Slice> head;  ///< painted again above it where a page begins with it
};

constexpr int dots_per_inch = 600;
inline double dots(double mm) { return mm * dots_per_inch / 25.4; }

/// One page holds this much, dots.
struct Sheet {
  QPaintDevice* device = nullptr;
  double width = 0, height = 0;
  double scale = 1;  ///< at which it is painted: places for the pen keep their size
};
std::vector<Slice> slices_of(const Document& document, Language language, const Sheet& sheet);

}  // namespace seamwright::reports
