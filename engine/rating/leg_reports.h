// SPDX-License-Identifier: GPL-3.0-or-later
// A rating tells of the ride itself: the levels on every leg, and every state of the trike.
#pragma once

#include "engine/rating/rate.h"
#include "engine/rating/service.h"

namespace seamwright::rating {

/// lift_share: per trip and leg, where the ride was counted in steps; else NaN.
std::vector<LegReport> leg_reports(const design::Design& design, const Service& service,
                                   const std::vector<std::vector<double>>& lift_share);
std::vector<StateReport> state_reports(const Service& service);

}  // namespace seamwright::rating
