// SPDX-License-Identifier: GPL-3.0-or-later
// The frame as it is drawn: stretches of tube, wheels, and a flag for everything that is rated. Plain data in
// mm, the design's axes; painters turn and scale it.
#pragma once

#include <array>
#include <map>
#include <string>
#include <vector>

#include "engine/frame/vector.h"
#include "engine/shape/solid.h"
#include "reports/content/blocks.h"

namespace seamwright::design {
struct Design;
}
namespace seamwright::rating {
struct Job;
}

namespace seamwright::reports {

/// Views by the geometry kernel, by their names ("side", "top", "front", "oblique").
struct DrawnViews {
  std::map<std::string, std::vector<shape::ViewLine>> lines;
  std::vector<Message> notes;  ///< what is missing in them, and why
  /// The two places of the bodies that lie furthest apart along each of the design's axes; none without bodies.
  std::vector<std::array<frame::Vec3, 2>> furthest_mm{};
};

struct FrameDrawing {
  struct Point {
    std::string node;
    frame::Vec3 at_mm{0, 0, 0};
  };
  /// A piece of a member between two of the points.
  struct Stretch {
    std::string member;
    std::size_t from = 0, to = 0;
    double diameter_mm = 0;  ///< or the larger side of another section
    bool axial_only = false;
    double bore_mm = 0;  ///< diameter of what is hollow in it
  };
  /// A weld, a notch or a circle of bolts: where it is, and the direction of its member from there.
  struct Flag {
    std::string id, member, node;
    std::size_t point = 0;  ///< that it moves with
    frame::Vec3 at_mm{0, 0, 0}, along{0, 0, 1};
    double diameter_mm = 0;
    double reach_mm = 0;  ///< from there along the member until all of it has left the chord
  };
  struct Wheel {
    std::string id;
    std::size_t point = 0;
    frame::Vec3 axle{0, 1, 0};
    double radius_mm = 0;
  };
  std::vector<Point> points;
  std::vector<Stretch> stretches;
  std::vector<Flag> flags;
  std::vector<Wheel> wheels;
  frame::Vec3 least_mm{0, 0, 0}, most_mm{0, 0, 0};  ///< of points and wheels
  DrawnViews views;  ///< those that are there take the place of double lines
};
FrameDrawing frame_drawing(const design::Design& design, DrawnViews views = {});

/// A way in which the frame moves, mm at each point of the drawing; of a mode the largest is 1.
struct FrameMotion {
  Message name;
  std::vector<frame::Vec3> at;
  bool mode = false;
  std::vector<frame::Vec3> turn{};  ///< rad at each point, of the same size as the motion
  /// Largest equivalent stress at both ends of each stretch, MPa; none of a mode, whose size is nobody's.
  std::vector<std::array<double, 2>> stress_mpa{};
};
/// The first motion is the rest under the payload of the duty's first leg, then the modes of that state up to
/// the duty's highest frequency, at most `most`. Throws what loads::make_state() throws.
std::vector<FrameMotion> frame_motions(const rating::Job& job, const FrameDrawing& drawing, std::size_t most);

}  // namespace seamwright::reports
