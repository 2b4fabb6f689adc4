// SPDX-License-Identifier: GPL-3.0-or-later
// A view of the frame as numbers, and what it makes of its places: parallel projection, its inverse, and
// the ways to move on that leave a chosen point where it is.
#pragma once

#include <optional>
#include <string>

#include "reports/content/frame_drawing.h"
#include "reports/content/picture.h"

namespace seamwright::reports {

/// A plane square to one of the design's axes, which takes away what lies before it.
struct FrameSection {
  enum class Across { nothing, x, y, z };
  Across across = Across::nothing;
  double place = 0.5;      ///< 0..1 of the frame's extent along the axis
  bool takes_high = true;  ///< what lies beyond the place goes, else what lies below it
};

/// The view says from where one looks: turned about the upright, then tipped; parallel projection. Whoever
/// paints the frame, shaded or in lines, shows this same view.
struct FrameView {
  double turn_deg = 32, tip_deg = 24;
  /// Once a hand has moved the view: the frame's point in the middle, and the mm of the frame from top to
  /// bottom. Without it all of the frame fits.
  struct Held {
    frame::Vec3 centre_mm{0, 0, 0};
    double tall_mm = 1;
  };
  std::optional<Held> held{};
  double margin_mm = 22;  ///< of the picture, for flags around the whole frame
  FrameSection section{};
  std::string joint{};  ///< the flag that the view was pulled to; what does not meet there fades
};
/// "side" (from the right), "top", "front", "oblique". Throws Fault "plot.unknown-view".
FrameView view_of(const std::string& name);

/// A view of one frame in a picture of some size, as numbers.
struct FrameCamera {
  Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();  ///< rows: right, up, towards the viewer
  frame::Vec3 centre_mm{0, 0, 0};                      ///< in the middle of the picture
  Point middle;                                        ///< of the picture
  double scale = 1;                                    ///< mm of the picture for a mm of the frame
  double fit_scale = 1;                                ///< with which all of it fits
};
FrameCamera camera_of(const FrameDrawing& drawing, const FrameView& view, double width_mm, double height_mm);

/// A view is drawn from here: into the picture, and what is up in it.
struct Eye {
  frame::Vec3 towards, up;
};
Eye eye_of(const FrameView& view);

/// Picture mm, y down.
Point projected(const FrameCamera& camera, const frame::Vec3& place_mm);
/// Distance towards the viewer, from the plane through the centre.
double depth_mm(const FrameCamera& camera, const frame::Vec3& place_mm);
frame::Vec3 unprojected(const FrameCamera& camera, const Point& point, double depth_mm);

/// Turned and tipped by so much about a place, which stays where it is in the picture and in depth. The tip
/// ends at straight down and straight up.
FrameView turned_about(const FrameView& view, const FrameCamera& camera, const frame::Vec3& pivot_mm,
                       double turn_deg, double tip_deg);
/// Larger by a factor; what lies under the point stays there. Ends at a third and at sixty times of the fit.
FrameView zoomed_about(const FrameView& view, const FrameCamera& camera, const Point& point, double by);
/// Moved by so many mm of the picture.
FrameView shifted(const FrameView& view, const FrameCamera& camera, const Point& by);
/// Pulled to a flag's joint, with a few widths of its tube around it.
FrameView pulled_to(const FrameView& view, const FrameDrawing& drawing, const std::string& flag);

/// A section leaves this half of space: the places with normal . place <= offset.
struct HalfSpace {
  frame::Vec3 normal{0, 0, 1};
  double offset_mm = 0;
};
std::optional<HalfSpace> kept_by(const FrameSection& section, const FrameDrawing& drawing);
/// A section across the axis that takes away what stands before the rest, seen from this view.
FrameSection section_facing(const FrameView& view, FrameSection::Across across, double place);

}  // namespace seamwright::reports
