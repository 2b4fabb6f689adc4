// SPDX-License-Identifier: GPL-3.0-or-later
// Damage of one trip at every site, by rainflow of its histories or from spectral moments.
#pragma once

#include <map>

#include "engine/loads/manoeuvres.h"
#include "engine/rating/sites.h"

namespace seamwright::rating {

/// A payload state with the rows of all sites on its coordinates.
struct RatedState {
  loads::State state;
  loads::Transfer transfer;
  Eigen::MatrixXd rows;       ///< coordinates x sites, MPa per coordinate
  Eigen::VectorXd standing;   ///< per site: stress at rest, MPa
  Eigen::MatrixXd slow;       ///< full displacements per unit of each slow channel, full x 4
  Eigen::MatrixXd slow_rows;  ///< the same as stress, channels x sites, MPa per unit
};

struct TripDamage {
  std::vector<double> factored, unfactored;  ///< per site and trip; the first with the stress factor
  std::vector<double> largest_range_mpa;
};

/// Counts the whole trip as it repeats, one realisation per seed name. factors: per site, on stress.
TripDamage count_trip(const loads::Duty& duty, const std::map<double, RatedState>& states,
                      const std::vector<Site>& sites, const std::vector<double>& factors,
                      const std::string& seed, const Progress& progress, double progress_from,
                      double progress_to);

/// The same from spectral moments (Dirlik), leg by leg. Manoeuvres and loading are added as cycles of their
/// own (two corners one cycle from left to right, a stop one cycle, a turn of the crank one cycle from pedal
/// to pedal or, where both pull the same way, one for each; a trip one cycle between the payload states):
/// each counted alone, without the road's cycles on top.
TripDamage spectral_trip(const loads::Duty& duty, const std::map<double, RatedState>& states,
                         const std::vector<Site>& sites, const std::vector<double>& factors);

/// Spectral damage of one leg at one site with a factor on stress.
double leg_damage(const loads::Leg& leg, const RatedState& state, const loads::MomentMatrices& moments,
                  const Site& site, Eigen::Index index, double factor);

const loads::Road& road_of(const loads::Duty& duty, const loads::Leg& leg);

}  // namespace seamwright::rating
