// SPDX-License-Identifier: GPL-3.0-or-later
// Work split over the sites. Each site is worked by one thread, so no result depends on their number.
#pragma once

#include <Eigen/Core>
#include <functional>

namespace seamwright::rating {

/// Calls work(first, last) for stretches that cover 0..sites, one per processor (at most 16). Rethrows the
/// first exception.
void over_sites(Eigen::Index sites, const std::function<void(Eigen::Index, Eigen::Index)>& work);

}  // namespace seamwright::rating
