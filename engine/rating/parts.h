// SPDX-License-Identifier: GPL-3.0-or-later
// Damage of a year in its parts, each load counted alone: what the frequency domain gives, and where damage
// comes from.
#pragma once

#include "engine/cycles/spectral.h"
#include "engine/rating/range_bins.h"
#include "engine/rating/rate.h"
#include "engine/rating/service.h"
#include "engine/rating/year_parts.h"

namespace seamwright::rating {

/// The road of each leg by spectral moments and a model of its ranges; every manoeuvre as cycles of its own
/// (two pulses one cycle from peak to peak where they pull in opposite ways, else one cycle for each), every
/// obstacle by rainflow of its ride from rest to rest, a trip as one cycle between its extreme standing
/// stresses. The road's cycles on top of the others are not counted.
struct Parts {
  std::vector<Part> parts;
  Eigen::MatrixXd factored, unfactored;  ///< parts x sites, damage per year
  Eigen::MatrixXd range_mpa;             ///< parts x sites: the largest
};
/// Nothing that is in the memory is counted again.
Parts damage_in_parts(const Service& service, cycles::RangeModel model, Memory& memory);
Parts damage_in_parts(const Service& service, cycles::RangeModel model);

/// Cycles and damage of a year at one site by range, all parts together.
RangeBins ranges_in_parts(const Service& service, cycles::RangeModel model, std::size_t site);

/// Damage of a year at one site without factors but these on stress and those of its size, one sum for each, all parts together.
std::vector<double> damages_per_year(const Service& service, cycles::RangeModel model, std::size_t site,
                                     std::span<const double> stress_factors);

/// A damage law as stretches of power laws, from high to low.
std::vector<cycles::PowerLaw> power_laws(const fatigue::DamageLaw& law);

/// Spectral damage per second of a leg's road from moments of the stress, with a factor on stress.
double road_damage_per_s(const cycles::Moments& moments, cycles::RangeModel model, const sites::Site& site,
                         double factor);
/// Moments of a site's stress from those of the coordinates.
cycles::Moments stress_moments(const loads::MomentMatrices& moments, const Eigen::VectorXd& row);

}  // namespace seamwright::rating
