// SPDX-License-Identifier: GPL-3.0-or-later
// How each rule set expresses safety. Values from memory of each document; which case of use takes which row
// is an assumption of this project.
#pragma once

#include "engine/rules/rule_tables.h"
#include "engine/rules/rules.h"

namespace seamwright::rules {

struct Safety {
  double load_factor = 1;            ///< on stress ranges, from the scatter of the loads
  double partial_factor = 1;         ///< on stress ranges: EN 1993-1-9 Table 3.1; IIW 2008, gamma_M
  double design_fatigue_factor = 1;  ///< on damage: DNV-OS-C101
  double damage_limit = 1;  ///< IIW: 0.2 for a fluctuating mean stress (0.5 for other variable amplitudes)
};
/// EN 1993-1-9: low consequence 1.00 inspected, 1.15 safe life; high 1.15 and 1.35. IIW: secondary part 1.0
/// and 1.15, whole frame 1.15 and 1.30, people 1.30 and 1.40. DNV: 1, 2, 3, 10. Loads: two standard
/// deviations of log-normal loads, the survival of the mean-minus-two curve, applied to loads.
Safety safety_of(const Rules& rules);

}  // namespace seamwright::rules
