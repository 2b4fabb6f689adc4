// SPDX-License-Identifier: GPL-3.0-or-later
// A rating tells more than its numbers: shares, reasons, legs and states. order: for every weld of the
// rating, the places of its sites in the service.
#pragma once

#include "engine/rating/parts.h"

namespace seamwright::rating {

using Order = std::vector<std::vector<std::size_t>>;

/// Shares of the parts at every site.
void add_shares(const Parts& parts, const Order& order, Rating& rating);

/// Adds for every weld's governing site the road's damage with all modes over that with the body's modes
/// alone.
void add_elastic(const Job& job, const Service& service, const Order& order, Rating& rating);

/// The chain from section forces for the worst site of each kind, and the legs at the governing site.
void add_reasons(const Service& service, const Parts& parts, const Order& order, Rating& rating);

/// Channels, cycles and, where crack growth has a solution, the inspection interval of the worst site of each
/// kind, for the governing weld and the one named. ranges: per site in the service, as counted over all
/// realisations; empty in the frequency domain, where they follow from the parts.
void add_detail(const design::Design& design, const Service& service, const Parts& parts,
                cycles::RangeModel model, const std::vector<RangeBins>& ranges, const Order& order,
                const std::string& explained, Rating& rating);

/// Legs and states. lift: per trip and leg, where the ride was counted in steps.
void add_reports(const Job& job, const Service& service, const std::vector<std::vector<double>>& lift,
                 Rating& rating);

}  // namespace seamwright::rating
