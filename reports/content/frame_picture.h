// SPDX-License-Identifier: GPL-3.0-or-later
// The frame seen from somewhere, as a picture: members as double lines to scale, near ones over far ones, a
// flag for every weld, how much of its life is used as one hue and a thickness.
#pragma once

#include <limits>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "reports/content/border_labels.h"
#include "reports/content/frame_camera.h"
#include "reports/content/frame_drawing.h"
#include "reports/content/picture.h"

namespace seamwright::rating {
struct Rating;
}

namespace seamwright::reports {

/// A view by the geometry kernel in any direction, in place of double lines.
struct TurnedLines {
  double turn_deg = 0, tip_deg = 0;
  std::vector<shape::ViewLine> lines;
};

struct FrameLook {
  std::map<std::string, double> used;              ///< per flag: life used; NaN = not covered
  std::set<std::string> falls_short, not_covered;  ///< what is not covered has a dashed ring
  std::string chosen, pointed;                     ///< flags
  std::set<std::string> chosen_members;
  const FrameMotion* motion = nullptr;
  double motion_mm = 0;                  ///< largest motion as drawn, in the frame's mm
  double motion_share = 1;               ///< -1..1: how much of it is there now
  const FrameDrawing* second = nullptr;  ///< another design, behind this one
  const TurnedLines* turned = nullptr;   ///< drawn where the view has its direction
  bool flags = true;
  bool marks = true;  ///< bar of the scale, and axes
  bool body =
      true;  ///< false: another painter has drawn tubes, wheels and bands; flags, scale bar and axes alone
  std::size_t most_flags = std::numeric_limits<std::size_t>::max();  ///< have names: the chosen, the pointed, the worst
  /// Names stand beside their welds, which is quick, or around the frame, where they cover none of it: for paper.
  enum class Names { beside, border } names = Names::beside;
  std::set<std::string> named{};  ///< border: these flags alone; empty: all
};
/// The frame's mm as drawn for a mm, or a unit, of the motion.
double motion_scale(const FrameLook& look);
/// A rating says this of each flag.
FrameLook look_of(const rating::Rating& rating);

/// Hits tell what stands where, for pointers and tests; mm of the picture.
struct FrameHits {
  struct Flag {
    std::string id;
    Point label, label_size;  ///< upper left corner; size 0 when there was no room for it
    Point at;
  };
  struct Line {
    std::string member;
    Point from, to;
    double half_width = 0, depth = 0;
  };
  struct Leader {
    Point from, to;  ///< from the place to the name
  };
  std::vector<Flag> flags;
  std::vector<Line> lines;
  std::vector<Leader> leaders;  ///< one for each name
};
struct FramePicture {
  Picture picture;
  FrameHits hits;
  std::size_t unnamed = 0;  ///< flags without room for their label
};
/// The border that the names of a view need, and the view that holds the whole frame within it.
Border border_of(const FrameDrawing& drawing, const FrameView& view, const FrameLook& look, double width_mm,
                 double height_mm);
FrameView fitted_within(const FrameDrawing& drawing, const FrameView& view, const Border& border,
                        double height_mm);
FramePicture frame_picture(const FrameDrawing& drawing, const FrameView& view, const FrameLook& look,
                           double width_mm, double height_mm);

/// The flag nearest to a point, by its label first, within `reach`; "" for none.
std::string flag_at(const FrameHits& hits, const Point& point, double reach_mm);
/// The member nearest to the viewer at a point; "" for none.
std::string member_at(const FrameHits& hits, const Point& point, double reach_mm);

}  // namespace seamwright::reports
