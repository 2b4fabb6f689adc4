// SPDX-License-Identifier: GPL-3.0-or-later
// A life is predicted by median curve, median loads and the median of the Miner sum. Two kinds of scatter are kept
// apart: all frames of a design share the one (loads, frame model, each place's local model and Miner sum), and each
// frame has its own of the other (use, each place's distance from its median curve).
//
// A place's medians follow from closed forms; a frame's, and all shares over what is shared, from 1024 samples of a Latin
// hypercube (McKay, Beckman and Conover, Technometrics 21 (1979) 239 [from memory]), always the same ones.
#pragma once

#include <limits>
#include <vector>

#include "engine/fatigue/likelihood.h"

namespace seamwright::fatigue {

inline constexpr double not_predicted = std::numeric_limits<double>::quiet_NaN();

/// Lives are in services: 1 is the damage's own span. Infinite where nothing is damaged. A single place's life is that at the
/// median use.
struct PredictedLife {
  double median = not_predicted;  ///< half of the frames have a crack by then: the median over what all frames share
  double low = not_predicted, high = not_predicted;  ///< of that life, a tenth and nine tenths over what all frames share
  double first_tenth = not_predicted;  ///< one frame in ten has a crack by then: the median over what all frames share
};

/// So large a share of the frames cracks within one service: the mean, and a tenth and nine tenths over what all frames share.
struct CrackedShare {
  double mean = not_predicted, low = not_predicted, high = not_predicted;
};

struct Prediction {
  PredictedLife life;
  CrackedShare cracked;
};
struct FramePrediction {
  Prediction frame;
  std::vector<Prediction> places;  ///< in their order
};

/// Throws Fault "fatigue.bad-scatter" as place_likelihood().
FramePrediction predict(const std::vector<Place>& places, const Scatter& scatter);

}  // namespace seamwright::fatigue
