// SPDX-License-Identifier: GPL-3.0-or-later
// A joint without a model of its own answers by that of a like one: for searches and sweeps, and until its own is worked out.
// Engineering choice of ours, tested against own models (docs/methods/joints.md).
#pragma once

#include <optional>

#include "engine/solid/joint_models.h"

namespace seamwright::solid {

/// Own models had largest stresses of a weld that were higher or lower by these shares at most (342 welds, docs/methods/joints.md; nine of
/// ten by 0.15). The bending of a root changes its sign with the chord's wall: no scale knows that.
inline constexpr double scaled_toe_error = 0.5, scaled_root_error = 0.6;

struct ScaledModel {
  JointAnswer answer;
  double apart = 0;  ///< largest difference of a dimension, as a logarithm
};

/// Like: parts, seams, ends and seats of the same kinds by number, dimensions within a factor of 1.6, legs of welds within 3.2,
/// angles within 10 degrees. Forces
/// at moved ends are carried to where they were; stiffness changes as that of beams with springs at their feet, stress at toes as that
/// of the equations, stress in sections of the weld as force over their length. None where nothing is like it.
std::optional<ScaledModel> scaled_model(const JointTask& task, const JointLibrary& library);

}  // namespace seamwright::solid
