// SPDX-License-Identifier: GPL-3.0-or-later
// Welds hold what the plan says that they hold: a check of joint models, whatever made them.
#pragma once

#include "engine/solid/joint_answer.h"

namespace seamwright::solid {

/// A weld's leg at one angle: the faces that weld metal shares with the tube, as a share of the leg as
/// planned.
struct JoinedLeg {
  double brace = 0, chord = 0;
  bool stands_free =
      true;  ///< no neighbour takes more than half of the fillet away there: metal must be joined to both
};

/// A seam's legs at places_around angles, each over the sixteenth of the seam about it. Weld metal of
/// neighbours counts too.
std::vector<JoinedLeg> joined_legs(const JointTask& task, const MeshedJoint& joint, std::size_t seam);

/// Throws std::runtime_error where a leg that stands free is joined over less than a quarter of itself.
void check_joined(const JointTask& task, const MeshedJoint& joint);

/// Throws std::runtime_error where a chord bends under a weld, which is worked out on a straight tube.
void check_chord_is_straight(const JointTask& task, const Seam& seam);

}  // namespace seamwright::solid
