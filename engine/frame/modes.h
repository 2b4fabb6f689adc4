// SPDX-License-Identifier: GPL-3.0-or-later
// Undamped modes, for response by superposition.
#pragma once

#include "engine/frame/assembly.h"

namespace seamwright::frame {

struct Modes {
  Eigen::VectorXd frequency_hz;  ///< ascending; rigid-body modes of a free frame come first, as 0
  Eigen::MatrixXd shapes;        ///< full x modes, mass-normalised (shape' M shape = 1, tonne mm2)
};

/// All modes up to the frequency. Accuracy: eigenvalues to 1e-8 relative.
Modes modes(const Assembly& assembly, double up_to_hz);

}  // namespace seamwright::frame
