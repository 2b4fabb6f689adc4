// SPDX-License-Identifier: GPL-3.0-or-later
// Centre lines of two walls that do not meet in a butt weld: the bending that this adds, as a factor on the
// stress of the thinner wall.
#pragma once

#include "engine/evidence/evidence.h"
#include "engine/rules/rule_set.h"

namespace seamwright::rules {

struct Misalignment {
  double factor = 1;
  Evidence evidence;
};

/// Applies the set's own formula; never below 1. Both walls and the offset of their centre lines, all mm.
/// Throws Fault "joints.bad-offset" for walls that are not positive or an offset below 0.
Misalignment misalignment(const RuleSet& set, double t_mm, double t2_mm, double offset_mm);

}  // namespace seamwright::rules
