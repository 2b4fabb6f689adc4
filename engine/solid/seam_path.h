// SPDX-License-Identifier: GPL-3.0-or-later
// The way around a weld: where its root and toes lie, and which of its sections a point belongs to.
#pragma once

#include <vector>

#include "engine/shape/root_curve.h"
#include "engine/solid/joint_task.h"

namespace seamwright::solid {

/// The weld's section square to its root curve at an angle.
struct SeamSection {
  double angle_rad = 0;
  Vec3 root, brace_toe, chord_toe;  ///< root: where weld metal begins, under the brace's end face where that is fused in part
  Vec3 tangent{0, 0, 0};           ///< along the root, in the sense of the angle
  Vec3 up_brace, along_chord;      ///< away on either wall, where their outer surfaces meet
  Vec3 brace_normal, chord_normal;  ///< outward, there
  Vec3 slit_way;                    ///< unit tangent of the chord at the root: a slit opens further along it
};

class SeamPath {
 public:
  /// Throws std::runtime_error where a part of the brace misses the chord, or where the walls stand at more than 170 degrees.
  explicit SeamPath(const shape::FilletAround& fillet, int n = 360, double fusion_mm = 0);
  const std::vector<SeamSection>& sections() const { return sections_; }
  /// Number of the section whose root is nearest.
  std::size_t nearest(const Vec3& point) const;
  /// The nearest angle's section; angles in radians, any turn.
  const SeamSection& section_at(double angle_rad) const;
  double greatest_leg_mm() const { return greatest_leg_mm_; }

 private:
  std::vector<SeamSection> sections_;
  double greatest_leg_mm_ = 0;
};

/// The way around a seam of a joint, with its own depth of fusion.
inline SeamPath path_of(const Seam& seam, int n = 360) { return SeamPath(seam.fillet, n, seam.fused_in_part() ? seam.fusion_mm : 0); }

/// A step on the surface of a round tube from a point of it along a unit tangent.
Vec3 step_on(const shape::Stretch& tube, const Vec3& from, const Vec3& direction, double step_mm);
/// Outward normal of a round tube's surface.
Vec3 normal_of(const shape::Stretch& tube, const Vec3& at);

}  // namespace seamwright::solid
