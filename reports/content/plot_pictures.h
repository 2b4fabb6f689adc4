// SPDX-License-Identifier: GPL-3.0-or-later
// Plots: labels on the curves, units on the axes, the source underneath.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "engine/cycles/rainflow.h"
#include "engine/fatigue/fit.h"
#include "engine/loads/stability.h"
#include "engine/rating/rate.h"
#include "reports/content/blocks.h"
#include "reports/content/weld_card.h"

namespace seamwright::reports {

/// Range over cycles on logarithmic axes: failures as dots, run-outs as dots with an arrow, mean and design
/// curve labelled.
Picture fit_plot(const fatigue::Fit& fit, const std::vector<fatigue::Test>& tests);
/// A curve and what the weld meets in its service: bars of cycles by range, darker for more of the damage.
Picture sn_plot(const SnPlot& plot, double height_mm = 85);
/// Cycles by range and mean, flat; darker for more, the scale is logarithmic.
Picture range_mean_plot(const std::vector<cycles::Cycle>& cycles);
/// The plot shows how many cycles have at least a range.
Picture exceedance_plot(const std::vector<cycles::Cycle>& cycles);
/// Density over frequency.
Picture spectrum_plot(const Eigen::VectorXd& frequency_hz, const Eigen::VectorXd& density,
                      const std::string& channel);
/// Shares as bars, largest first.
Picture shares_plot(const std::vector<Share>& shares, double width_mm = 150);
/// Each wheel's load at rest in every state, and three deviations on the roughest leg of that state.
Picture wheel_loads_plot(const rating::Rating& rating);
/// Lateral acceleration at which it tips against steering, a line for each payload; where tyres slide first.
Picture tip_plot(const loads::Stability& stability, double friction);

}  // namespace seamwright::reports
