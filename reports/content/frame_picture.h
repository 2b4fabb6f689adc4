// SPDX-License-Identifier: GPL-3.0-or-later
// The frame seen from somewhere, as a picture: members as double lines to scale, near ones over far ones, a
// flag for every weld, how much of its life is used as one hue and a thickness.
#pragma once

#include <map>
#include <set>
#include <string>
#include <vector>

#include "reports/content/frame_drawing.h"
#include "reports/content/picture.h"

namespace seamwright::reports {

/// The view says from where one looks: turned about the upright, then tipped; parallel projection.
struct FrameView {
  double turn_deg = 32, tip_deg = 24;
  double zoom = 1;       ///< 1 = all of it fits
  Point moved_mm{0, 0};  ///< of the middle
  std::string name{};    ///< of a named view; "" of any other
};
/// A view is drawn from here: into the picture, and what is up in it.
struct Eye {
  frame::Vec3 towards, up;
};
Eye eye_of(const FrameView& view);
/// "side" (from the right), "top", "front", "oblique". Throws Fault "plot.unknown-view".
FrameView view_of(const std::string& name);

struct FrameLook {
  std::map<std::string, double> used;              ///< per flag: life used; NaN = not covered
  std::set<std::string> falls_short, not_covered;  ///< what is not covered has a dashed ring
  std::string chosen, pointed;                     ///< flags
  std::set<std::string> chosen_members;
  const FrameMotion* motion = nullptr;
  double motion_mm = 0;                  ///< largest motion as drawn, in the frame's mm
  const FrameDrawing* second = nullptr;  ///< another design, behind this one
  bool flags = true;
};
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
  std::vector<Flag> flags;
  std::vector<Line> lines;
};
struct FramePicture {
  Picture picture;
  FrameHits hits;
  std::size_t unnamed = 0;  ///< flags without room for their label
};
FramePicture frame_picture(const FrameDrawing& drawing, const FrameView& view, const FrameLook& look,
                           double width_mm, double height_mm);

/// The flag nearest to a point, by its label first, within `reach`; "" for none.
std::string flag_at(const FrameHits& hits, const Point& point, double reach_mm);
/// The member nearest to the viewer at a point; "" for none.
std::string member_at(const FrameHits& hits, const Point& point, double reach_mm);

}  // namespace seamwright::reports
