// SPDX-License-Identifier: GPL-3.0-or-later
// Credit for cycles that are partly in compression, where a rule set gives one: for parts that are not
// welded, and for welds relieved of their residual stress by heat. As-welded details get none.
#pragma once

#include "engine/evidence/evidence.h"

namespace seamwright::fatigue {

enum class MeanStress { none, en1993, iiw_case_1 };

/// The range that counts, MPa, of a cycle between least and most, least <= most. EN 1993-1-9, 7.2.1 [from
/// memory]: the part in tension and 0.6 of the part in compression. IIW 2008, case I of the stress ratio
/// [from memory]: the range over f(R).
double effective_range(MeanStress rule, double least_mpa, double most_mpa);

/// f(R) of case I, 1..1.6: 1.6 below R = -1 and wholly in compression, 1.2 - 0.4 R up to R = 0.5, then 1.
double iiw_case_1_factor(double least_mpa, double most_mpa);

}  // namespace seamwright::fatigue
