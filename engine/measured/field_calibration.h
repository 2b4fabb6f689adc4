// SPDX-License-Identifier: GPL-3.0-or-later
// Frames that came back from the field tell the load factor and the scatter of lives that make it likely.
#pragma once

#include "engine/rating/rate.h"

namespace seamwright::measured {

/// A frame that cracked at a weld, or came home whole.
struct Return {
  bool cracked = false;
  std::string weld, site;  ///< cracked: where; site "" = the weld's worst
  double km = 0;
  double count = 1;
};

/// One return against the model: ln of its distance and ln of the median life, in km, at each ln load factor.
struct Observation {
  bool cracked = false;
  double ln_km = 0, count = 1;
  std::vector<double> ln_life_km;
};

/// Log-normal priors, stated: load factor about 1, scatter of ln life.
struct Prior {
  double ln_factor_deviation = 0.4;
  double scatter_median = 0.76, ln_scatter_deviation = 0.4;
};

struct Estimate {
  double value = 0, low = 0, high = 0;  ///< 90 %
};
struct Calibration {
  Estimate factor, scatter;                      ///< maximum likelihood, profile-likelihood interval
  bool bounded = true;                           ///< false: the likelihood still rises at the grid's edge
  Estimate posterior_factor, posterior_scatter;  ///< median, 5 % and 95 %
  double narrowing = 1;  ///< posterior over prior deviation of ln factor: 1 = the data say nothing
};

/// Lives are log-normal about the model's median with a scatter of ln life that is the same for all: density
/// for a crack, survival for a frame that came home (censored; e.g. Meeker & Escobar, Statistical Methods for
/// Reliability Data, 1998, chapter 8 [from memory]). Load factors on an even grid of ln factor, scatter from
/// 0.05 to 3, both by their likelihood on a grid refined to 161 x 161 points. Throws Fault
/// "calibrate.no-returns".
Calibration calibrate(const std::vector<double>& ln_factor, const std::vector<Observation>& observations,
                      const Prior& prior);

/// The returns against the job's own parts of damage, each load counted alone; median lives stand two
/// standard deviations of log N above the design curve (0.2 where a curve does not give it, DNV-RP-C203), at the median Miner sum of the rules.
/// Throws Fault "calibrate.unknown-weld", "calibrate.unknown-site", "calibrate.no-curve" (a crack where no
/// curve is known).
struct FieldModel {
  std::vector<double> ln_factor;
  std::vector<Observation> observations;
};
FieldModel field_model(const rating::Job& job, const rules::Published& published,
                       const std::vector<Return>& returns);

}  // namespace seamwright::measured
