// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <array>
#include <string_view>

#include "reports/text/text.h"

namespace seamwright::reports {

namespace {

// Good to a factor, or to tens of percent: lives, chances, damage, what one life is of another; times,
// temperatures and hardness by formulas that miss by a fifth and more; shares of a cause.
constexpr std::array<std::string_view, 41> rough{"before",
                                                 "chance",
                                                 "channel",
                                                 "cooling-time",
                                                 "coordinate",
                                                 "crack-times",
                                                 "cracked",
                                                 "damage",
                                                 "deviation_after",
                                                 "deviation_before",
                                                 "earliest",
                                                 "fall-times",
                                                 "few",
                                                 "inspection-interval",
                                                 "latest",
                                                 "life",
                                                 "life_half",
                                                 "many",
                                                 "median_cycles",
                                                 "missed",
                                                 "moved",
                                                 "other-share",
                                                 "peak-hardness",
                                                 "power",
                                                 "preheat",
                                                 "probability",
                                                 "ratio",
                                                 "reliability-index",
                                                 "scatter",
                                                 "settle",
                                                 "share",
                                                 "single-times",
                                                 "spectral-damage",
                                                 "spread",
                                                 "target",
                                                 "thick",
                                                 "thin",
                                                 "through-crack",
                                                 "times",
                                                 "tyre-stiffness",
                                                 "used"};

// Good to some percent: stresses by beams and by equations for concentration, factors, what of a strength is
// used.
constexpr std::array<std::string_view, 26> fair{"deviation",
                                                "factor",
                                                "force_greatest",
                                                "force_least",
                                                "hole-concentration",
                                                "hole-edge-stress",
                                                "hot-spot",
                                                "joint-flexibility",
                                                "leg-stress-deviation",
                                                "nominal-stress",
                                                "range",
                                                "scf",
                                                "shoulder-factors",
                                                "six_pieces",
                                                "square-k-concentration",
                                                "standing-stress",
                                                "stress_range",
                                                "stress_rate",
                                                "ten_pieces",
                                                "three_pieces",
                                                "throat-stress",
                                                "track-coherence",
                                                "wheel-load",
                                                "stress-use",
                                                "use",
                                                "weld-use"};

}  // namespace

int digits_of(std::string_view name) {
  if (std::find(rough.begin(), rough.end(), name) != rough.end()) return digits_estimated;
  if (std::find(fair.begin(), fair.end(), name) != fair.end()) return digits_computed;
  return digits_given;
}

}  // namespace seamwright::reports
