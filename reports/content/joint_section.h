// SPDX-License-Identifier: GPL-3.0-or-later
// The joint of a procedure in section: walls to scale, preparation, runs numbered in their order.
#pragma once

#include "engine/qualification/stated_procedure.h"
#include "reports/content/picture.h"

namespace seamwright::reports {

/// Walls at the middle of their ranges, enlarged; the shape of runs is a sketch. A form or wall that is not
/// stated is drawn as a wall of 2 mm and says so.
Picture joint_section(const qualification::Sheet& sheet);

}  // namespace seamwright::reports
