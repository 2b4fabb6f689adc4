// SPDX-License-Identifier: GPL-3.0-or-later
// The sets of rules that a rating may follow: each is one file, and one row of the table. Choices of files,
// options, forms and figures are made from the table; what has another name is refused where it is read.
#pragma once

#include <array>

#include "engine/rules/rule_set.h"

namespace seamwright::rules {

extern const RuleSet dnv, en1993, iiw;
inline constexpr std::array rule_sets{&dnv, &en1993, &iiw};

}  // namespace seamwright::rules
