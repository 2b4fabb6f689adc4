// SPDX-License-Identifier: GPL-3.0-or-later
// A weld with what its joint's model says around its toes and its root: the joint as one sees it from where the largest place lies, the
// seam rolled out beside it, the largest place marked and named. More is darker and wider, so that it stays legible in grey.
#pragma once

#include <optional>
#include <string>

#include "engine/rating/job.h"
#include "reports/content/blocks.h"
#include "reports/content/seam_values.h"

namespace seamwright::reports {

/// A picture of a seam shows this.
struct SeamSubject {
  const solid::FrameJoint* joint = nullptr;
  std::size_t seam = 0;  ///< its number in the joint's task
  std::string weld, brace, chord;
  std::vector<SeamValues> loads;  ///< at least one; the picture shows the joint under that with the largest place
  SeamScale scale;
  MessageId scale_name;
  std::string unit;  ///< of the numbers on the scale, which are shown times `shown_as`
  double shown_as = 1;
  Message caption;
  Message how_large;   ///< at the largest place
};

/// A picture with what it shows, and the words that name its largest place; those stand in the picture too where it is wide.
struct SeamPicture {
  Picture picture;
  Message caption, largest_place, how_large;
};
/// A picture narrower than 150 mm shows the joint and the scale alone. Throws Fault "seam.not-drawn" where no load has a number.
SeamPicture seam_picture(const SeamSubject& subject, double width_mm = 180);

/// Stress over nominal stress in the brace, for each load. Throws as seam_picture().
SeamPicture stress_picture(const solid::FrameJoint& joint, const models::JointReport::Seam& seam, double width_mm = 180);

/// The life used around a rated weld. None where no joint model of the design holds the weld, or where it was rated by equations.
std::optional<SeamPicture> used_picture(const design::Design& design, const rating::WeldRating& weld,
                                        double width_mm = 180);

PictureBlock block_of(SeamPicture picture);

}  // namespace seamwright::reports
