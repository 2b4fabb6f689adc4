// SPDX-License-Identifier: GPL-3.0-or-later
// The way from section forces to stress is evidence that a reader can add up by hand.
#pragma once

#include "engine/rating/parts.h"
#include "engine/rating/service.h"

namespace seamwright::rating {

/// The stress of a site when the trike stands still: each section force with its factor, and their sum, MPa.
/// Source: the frame's own statics; the factors rest on the site's evidence.
/// section_forces: of that state at rest, one to a column of the assembly's section force map, N and N mm.
Evidence standing_stress(const sites::Site& site, const loads::State& state,
                         const Eigen::VectorXd& section_forces);

/// Standard deviation of a site's stress on each leg, MPa, with its share of the spectral damage.
Evidence leg_stress(const loads::Leg& leg, double deviation_mpa, double share);

/// The loads that do damage at a site, most first, each counted alone: its leg, its largest range, its share;
/// below the road of a leg the coordinates (modes, static remainders of wheels) with their stress per unit,
/// their standard deviation, and their share of the stress's variance, covariances with the others halved
/// between both.
Evidence channels(const Service& service, const Parts& parts, std::size_t site);

/// Every bin of ranges that has cycles, most damage first: bounds, cycles a year, share.
Evidence cycles_by_range(const RangeBins& ranges);

}  // namespace seamwright::rating
