// SPDX-License-Identifier: GPL-3.0-or-later
// Paints a frame: members as double lines to scale, near ones over far ones, a flag for every weld, how much
// of its life is used as one hue and a thickness. The same for screen and paper.
#pragma once

#include <QColor>
#include <QPainter>
#include <QRectF>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "reports/content/frame_drawing.h"

namespace seamwright::reports {

struct FrameColours {
  QColor sheet, ink, faint, steel, arc;
  QColor pale, deep;  ///< ends of the hue for life used
};

/// From where one looks: turned about the upright, then tipped; parallel projection.
struct FrameView {
  double turn_deg = 32, tip_deg = 24;
  double zoom = 1;      ///< 1 = all of it fits
  QPointF moved{0, 0};  ///< of the middle, in widths of the area
};

struct FrameLook {
  FrameColours colours;
  std::map<std::string, double> used;  ///< per flag: life used; NaN = not covered
  std::set<std::string> falls_short;
  std::string chosen, pointed;  ///< flags
  std::set<std::string> chosen_members;
  const FrameMotion* motion = nullptr;
  double motion_mm = 0;  ///< largest motion as drawn
  bool flags = true;
};

/// What stands where, for the pointer.
struct FrameHits {
  struct Flag {
    std::string id;
    QRectF label;  ///< empty when there was no room for it
    QPointF at;
  };
  struct Line {
    std::string member;
    QPointF from, to;
    double half_width = 0, depth = 0;
  };
  std::vector<Flag> flags;
  std::vector<Line> lines;
};

FrameHits paint_frame(QPainter& painter, const QRectF& area, const FrameDrawing& drawing,
                      const FrameView& view, const FrameLook& look);

/// Colour of a place on the scale of place_of_used().
QColor used_colour(const FrameColours& colours, double place);
/// The flag nearest to a point, by its label first, within `reach` pixels; "" for none.
std::string flag_at(const FrameHits& hits, QPointF point, double reach);
/// The member nearest to the viewer at a point; "" for none.
std::string member_at(const FrameHits& hits, QPointF point, double reach);

}  // namespace seamwright::reports
