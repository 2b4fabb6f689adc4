// SPDX-License-Identifier: GPL-3.0-or-later
// A number at every place around a seam, along its toes and its root: what a picture of the seam shows.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "catalog/models/joint_report.h"
#include "engine/rating/rate.h"
#include "engine/solid/joint_answer.h"

namespace seamwright::reports {

enum class SeamLine { brace_toe, root, chord_toe };
inline constexpr std::array<SeamLine, 3> seam_lines{SeamLine::brace_toe, SeamLine::root, SeamLine::chord_toe};
MessageId name_of(SeamLine line);

/// One thing at all places, each at its angle in the frame; NaN where there is no number.
struct SeamValues {
  using Around = std::array<double, solid::places_around>;
  MessageId name;
  std::array<Around, seam_lines.size()> at;  ///< in the order of seam_lines
};

/// The numbers show so: paler than dark from `least`, or from nothing on a linear scale, up to `most`.
struct SeamScale {
  double least = 0, most = 1;
  bool logarithmic = false;
};
/// 0..1, also beyond the ends of the scale; 0 for NaN.
double level_of(const SeamScale& scale, double value);

/// The place with the largest number; none where there is no number.
struct SeamPlace {
  SeamLine line = SeamLine::root;
  double angle_deg = 0, value = 0;
};
std::optional<SeamPlace> largest_place(const SeamValues& values);

/// Stress at toes and root for each load, by size; nothing where no load can be named.
std::vector<SeamValues> stress_factors(const models::JointReport::Seam& seam);
/// Life used at toes and root: damage over what the rules allow. Of what a rating says of one place the largest; nothing where fewer
/// than all places around the seam have been rated, as equations do.
std::optional<SeamValues> used_around(const rating::WeldRating& weld);

}  // namespace seamwright::reports
