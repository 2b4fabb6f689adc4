// SPDX-License-Identifier: GPL-3.0-or-later
// The round tubes about one weld of a joint, by closed forms: where they lie in the frame, what one sees of them, and the strips along
// the weld's toes and root. Needs neither kernel nor worker.
#pragma once

#include <string>
#include <vector>

#include "engine/solid/frame_joints.h"
#include "engine/solid/seam_path.h"
#include "reports/content/frame_camera.h"
#include "reports/content/seam_values.h"

namespace seamwright::reports {

struct SeamSolid {
  struct Tube {
    shape::Stretch body;
    std::string part;
    bool open_from = false, open_to = false;  ///< sawn off there, or cut off for the picture
  };
  std::vector<Tube> tubes;                             ///< straight stretches
  std::vector<std::vector<solid::SeamSection>> seams;  ///< the shown one first; sections evenly spread over the angle in the frame
  shape::Stretch brace, chord;
  std::string brace_part, chord_part;
  const std::vector<solid::SeamSection>& around() const { return seams.front(); }
};
/// The joint as its model has it, in the frame's axes, mm; tubes that reach far are cut off nearer. seam: its number in the task.
SeamSolid seam_solid(const solid::FrameJoint& joint, std::size_t seam);

/// A piece of the strip along a line between two sections, as wide as `wide` says (0..1 of its room) at either.
struct StripPiece {
  std::array<frame::Vec3, 4> corners;
  frame::Vec3 middle, normal;
};
StripPiece strip_piece(const SeamSolid& solid, SeamLine line, std::size_t section, double wide_from, double wide_to);
/// Middle of the strip at a section.
frame::Vec3 strip_middle(const SeamSolid& solid, SeamLine line, std::size_t section, double wide);

/// Nothing of the joint stands between a point just above a surface and the viewer. towards: unit vector.
bool is_seen(const SeamSolid& solid, const frame::Vec3& at, const frame::Vec3& towards);

/// The first that one comes to from the viewer to a place is the wall of this part, or nothing at all.
bool is_bare(const SeamSolid& solid, const std::string& part, const frame::Vec3& at, const frame::Vec3& towards);

/// Lines that one sees, and those of the shown weld's toes that one does not.
struct SeamOutline {
  std::vector<std::vector<frame::Vec3>> seen, hidden_toes;
};
SeamOutline outline_of(const SeamSolid& solid, const frame::Vec3& towards);

/// The view with the frame upright that shows the place, and as much as can be of all that is large: rows right, up, towards the viewer.
Eigen::Matrix3d axes_towards(const SeamSolid& solid, const SeamValues& values, const SeamPlace& place);

/// The side of the brace on which an angle lies: the frame's direction nearest to it.
MessageId facing_of(const SeamSolid& solid, double angle_deg);

}  // namespace seamwright::reports
