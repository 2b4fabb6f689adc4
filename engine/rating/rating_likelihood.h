// SPDX-License-Identifier: GPL-3.0-or-later
// A crack in the service has its likelihood, weld by weld and for the whole frame.
#pragma once

#include <algorithm>

#include "engine/fatigue/likelihood.h"
#include "engine/fatigue/prediction.h"
#include "engine/rating/memory.h"
#include "engine/rating/verdicts.h"

namespace seamwright::rating {

/// A weld's place that lives shortest, and beside it those on other curves.
struct LikeliestPlace {
  fatigue::Place place;
  std::size_t weld = 0, site = 0;  ///< where it stands in the verdicts
  fatigue::Likelihood likelihood;
};
struct Chances {
  std::vector<LoadPath> paths;            ///< of the design's welds
  std::vector<LikeliestPlace> likeliest;  ///< at most one for each weld, in the order of the verdicts
  std::vector<CrackGrowth> growths;       ///< of the verdicts' welds
  RatingLikelihood frame;
  bool beyond_target() const {
    return std::any_of(frame.limit_states.begin(), frame.limit_states.end(), [](const LimitState& s) { return !s.met(); });
  }
};

/// The model of local stress scatters so at a site, ln stress; 0 where the curve contains it: 0.20 (JCSS), joined by the mesh's own error.
double local_deviation(const sites::Site& site);

/// The most damaged covered sites (one for each curve) of every weld, notch and circle of bolts, each with its damage by the characteristic curve without any factor as a function of the stress: its
/// shape from the parts, its height as rated. Deviations of log10 N: the curve's own, else 0.25 (the upper of
/// what is told of the Eurocode's background, from memory). The curve lies 2 deviations below its mean, EN
/// 1993-1-9 1.645. Hot spots from formulas carry 0.20 more on stress.
/// The verdicts are judged by it: every site by the damage that its target allows, every weld by its sites together, the
/// shortest-lived first; the welds are sorted anew, worst first.
Chances chances_of(const Job& job, const Service& service, Verdicts& verdicts, Memory& memory);

/// The likeliest places predict for themselves, in their order, and for the frame.
fatigue::FramePrediction prediction_of(const Job& job, const Chances& chances);

/// Target index of a fall: the job's own, or 3.8, the upper end of EN 1990, Table C2 for fatigue [from memory].
double target_index(const rules::Rules& rules);

}  // namespace seamwright::rating
