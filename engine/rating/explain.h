// SPDX-License-Identifier: GPL-3.0-or-later
// From section forces to stress, as evidence: what a reader can add up by hand.
#pragma once

#include "engine/rating/service.h"

namespace seamwright::rating {

/// The stress of a site when the trike stands still: each section force with its factor, and their sum, MPa.
/// Source: the frame's own statics; the factors rest on the site's evidence.
Evidence standing_stress(const Site& site, const RatedState& state);

/// Standard deviation of a site's stress on each leg, MPa, with its share of the spectral damage.
Evidence leg_stress(const loads::Leg& leg, double deviation_mpa, double share);

}  // namespace seamwright::rating
