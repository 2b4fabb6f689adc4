// SPDX-License-Identifier: GPL-3.0-or-later
// The likelihood of a crack follows from the scatter of curve, Miner sum, loads and model. All log-normal;
// standard deviations are those of natural logarithms.
//
// Sources: JCSS Probabilistic Model Code, part 3, fatigue: global stress 0.10, stress concentration 0.20; there the
// Miner sum at failure has mean 1 and a coefficient of variation of 0.3, a median of exp(-s^2/2). Scatter of a curve:
// its own published standard deviation of log10 N.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "engine/evidence/evidence.h"

namespace seamwright::fatigue {

/// ln standard deviation of a log-normal quantity with this coefficient of variation: sqrt(ln(1 + v^2)).
double log_deviation(double coefficient_of_variation);

/// Loads, global model and use move all places of a frame together; the local model, the curve and the Miner sum each
/// its own. Use differs from frame to frame; loads and global model are the same for all frames of a design.
struct Scatter {
  double loads = 0, frame_model = 0, miner = 0;
  double miner_median = 1;  ///< of the sum at failure
  double use = 0;
  double common() const;     ///< of the stress, shared by all places
  double of_design() const;  ///< of the stress, shared by all places of all frames
};

/// The share of a kind that may be faulty, at 90 % confidence, where so many samples had no fault: 1 - 0.1^(1/n), Clopper & Pearson 1934. 1 for
/// no sample.
double faulty_share(int faultless_samples);

/// One place that can crack. Damage of the service without any factor by the characteristic curve, as a
/// function of a multiplier on all stress: a straight line of logarithms between the steps, and beyond them
/// with the end slopes.
struct Place {
  std::string id;
  std::vector<double> ln_stress;  ///< ascending, at least two
  std::vector<double> ln_damage;  ///< not descending; -infinity: none
  double curve = 0;               ///< ln N
  Source curve_source{};          ///< of that number; empty: assumed
  bool curve_from_memory = false;
  double below_mean = 2;          ///< the curve lies so many deviations below its mean
  double local_model = 0;         ///< ln stress
  double instead_share = 0;       ///< with this chance the place is not as it should be but another, never better one
  std::shared_ptr<const Place> instead{};
  double counted_share = 1;       ///< of its cracks, in frame_likelihood() alone: the others are found in time
  std::vector<Place> beside{};    ///< of the same weld, with the same draws: the worst of them all decides
};
double ln_damage_at(const Place& place, double ln_stress);

/// Reliability index of a place and probability of a crack in the service. Throws Fault "fatigue.bad-scatter"
/// when nothing scatters, or a deviation is negative or not a number.
struct Likelihood {
  double index = 0, probability = 0;
  Evidence evidence;
};

/// Closed form with the slope m of the curve at the damage D of the stress as it is:
/// index = (below_mean s_N + ln median - ln D) / sqrt(s_N^2 + s_D^2 + m^2 (s_S^2 + s_local^2)).
Likelihood closed_form(double ln_damage, double slope, const Place& place, const Scatter& scatter);

/// A place with its damage as the curve has it: quadrature over stress.
Likelihood place_likelihood(const Place& place, const Scatter& scatter);

/// A frame is a series: it has a crack when any place has.
struct FrameLikelihood {
  double probability = 0, index = 0;  ///< loads and global model shared, all else independent
  double lower = 0, upper = 0;        ///< all fully correlated: the largest; all independent
};
FrameLikelihood frame_likelihood(const std::vector<Place>& places, const Scatter& scatter);

/// The same by simulation, for what has no closed form: share of samples with a crack, and its standard
/// error.
struct SimulatedChance {
  double probability = 0, standard_error = 0;
};
SimulatedChance simulate(const std::vector<Place>& places, const Scatter& scatter, std::size_t samples,
                         std::uint64_t seed);

}  // namespace seamwright::fatigue
