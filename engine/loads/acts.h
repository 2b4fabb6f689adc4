// SPDX-License-Identifier: GPL-3.0-or-later
// The acts of a rider that load the trike now and then: each is one row, with its name in files and its
// static load.
#pragma once

#include <Eigen/Core>
#include <array>

#include "engine/loads/duty.h"

namespace seamwright::loads {

class PosedTrike;
struct Carriers;

struct Act {
  const char* name;
  bool each_side;  ///< done to the left and to the right
  /// The load at the manoeuvre's full level, on top of standing, full: N, N mm. side: +1 left, -1 right.
  Eigen::VectorXd (*load)(const PosedTrike& trike, const Carriers& carriers, const Duty& duty,
                          const Manoeuvre& manoeuvre, double side);
};
inline constexpr std::array acts{&act::corner, &act::brake, &act::start, &act::sit_down, &act::bars};
inline const char* name_of(const Act* act) { return act->name; }

}  // namespace seamwright::loads
