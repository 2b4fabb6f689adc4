// SPDX-License-Identifier: GPL-3.0-or-later
// A reader must know more than the numbers: limits of validity, and every assumption that was made.
#pragma once

#include "engine/rating/damage.h"

namespace seamwright::rating {

/// used: the job's rules with the factors that the set gave. welds: worst first.
std::vector<Message> notes_of(const Job& job, const Service& service, const Damage& damage,
                              const rules::Rules& used, const std::vector<WeldRating>& welds);

}  // namespace seamwright::rating
