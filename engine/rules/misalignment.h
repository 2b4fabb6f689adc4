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

/// t is the thinner wall, t2 the other, e the offset of their centre lines, all mm. EN 1993-1-9, Table 8.3
/// row 17 [from memory]: 1 + 6 e/t t^1.5/(t^1.5 + t2^1.5). IIW 2008, tube with a step at a girth weld [from
/// memory]: 1 + 6 e/(t (1 - nu^2)) t^1.5/(t^1.5 + t2^1.5) with nu = 0.3, over the 1.15 that the class of a
/// butt weld made in the shop holds already. DNV-RP-C203, butt weld in plates [from memory]:
/// 1 + 6 (e - 0.1 t)/(t (1 + (t2/t)^1.5)). Never below 1. Throws Fault "joints.bad-offset" for walls that are
/// not positive or an offset below 0.
Misalignment misalignment(RuleSet set, double t_mm, double t2_mm, double offset_mm);

}  // namespace seamwright::rules
