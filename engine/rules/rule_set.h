// SPDX-License-Identifier: GPL-3.0-or-later
// The sets of rules that a rating may follow, each whole in itself. What has another name is refused where it
// is read; what follows from the set is a switch without a default, so that a further set cannot be
// forgotten.
#pragma once

#include <array>

namespace seamwright::rules {

enum class RuleSet { dnv, en1993, iiw };
inline constexpr std::array rule_sets{RuleSet::dnv, RuleSet::en1993, RuleSet::iiw};
/// "dnv", "en1993", "iiw": as files, options and curves name them.
const char* name_of(RuleSet set);

}  // namespace seamwright::rules
