// SPDX-License-Identifier: GPL-3.0-or-later
// The factors and the limit of a rating, from what its rule set asks for and what the job says.
#pragma once

#include "engine/rules/rules.h"

namespace seamwright::rules {

struct Safety {
  double load_factor = 1;            ///< on stress ranges, from the scatter of the loads
  double partial_factor = 1;         ///< on stress ranges; 1 where the set has none
  double design_fatigue_factor = 1;  ///< on damage; 1 where the set has none
  double damage_limit = 1;           ///< of the damage with factors
};
/// The set's safety for consequence and strategy, unless the job gives another. Loads: two standard
/// deviations of log-normal loads, the survival of the mean-minus-two curve, applied to loads.
Safety safety_of(const Rules& rules);

/// The note that a set's own partial factor was taken.
Message partial_factor_assumed(const RuleSet& set, const Safety& safety);

}  // namespace seamwright::rules
