// SPDX-License-Identifier: GPL-3.0-or-later
// Plots as drawings: hairline grid, labels on the curves.
#pragma once

#include <string>
#include <vector>

#include "engine/fatigue/fit.h"

namespace seamwright::reports {

/// Range over cycles on logarithmic axes: failures as dots, run-outs as dots with an arrow, mean and design
/// curve labelled.
std::string fit_plot(const fatigue::Fit& fit, const std::vector<fatigue::Test>& tests);

}  // namespace seamwright::reports
