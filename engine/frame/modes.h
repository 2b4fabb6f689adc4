// SPDX-License-Identifier: GPL-3.0-or-later
// Undamped modes, for response by superposition.
#pragma once

#include "engine/frame/assembly.h"

namespace seamwright::frame {

struct Modes {
  Eigen::VectorXd frequency_hz;  ///< ascending; rigid-body modes of a free frame come first, as 0
  Eigen::MatrixXd shapes;        ///< full x modes, mass-normalised (shape' M shape = 1, tonne mm2)
  bool dense = false;  ///< all pairs of the problem were computed, which takes long for large frames
};

/// All modes up to the frequency (0.001 Hz to 1e6 Hz); none is missed (Sturm count). Accuracy: eigenvalues to
/// 1e-8 relative of the discrete frame; a beam of n elements itself is within about 1 % for its first n
/// modes. A motion is rigid (0 Hz) when its strain energy is below 1e-12 of the terms that make it up. Throws
/// Fault "frame.bad-number" for the frequency, "frame.all-held" when nothing can move, "frame.mechanism" or
/// "frame.unlinked-hinge" for a motion without stiffness and without mass.
Modes modes(const Assembly& assembly, double up_to_hz);

}  // namespace seamwright::frame
