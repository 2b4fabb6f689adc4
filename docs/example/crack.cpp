// SPDX-License-Identifier: GPL-3.0-or-later
// A curve from the shop's own tests, the chance of a crack by it, and how long a crack in a tube grows until
// half of its circumference is gone. The tests are invented.
#include <cmath>
#include <cstdio>

#include "engine/fatigue/fit.h"
#include "engine/fatigue/growth.h"
#include "engine/fatigue/likelihood.h"

using namespace seamwright;

int main() {
  const fatigue::Fit fit = fatigue::fit_curve(
      {{200, 1.25e5}, {200, 1.6e5}, {150, 3.1e5}, {150, 4.2e5}, {100, 9.1e5}, {100, 1.3e6}, {60, 5e6, true}},
      {.slope = 3});
  std::printf("tests: log a %.4f, design %.4f, %zu failures and %zu run-out\n", fit.log_a, fit.design_log_a,
              fit.failures, fit.run_outs);

  // Damage 0.1 by a curve two deviations of 0.2 (log10) below its mean, slope 3; loads within 20 %.
  fatigue::Place place;
  place.id = "toe";
  place.curve = 0.2 * std::log(10.0);
  const double miner = fatigue::log_deviation(0.3);  // of a Miner sum with mean 1
  const fatigue::Scatter scatter{fatigue::log_deviation(0.20), fatigue::log_deviation(0.10), miner,
                                 std::exp(-0.5 * miner * miner)};
  const fatigue::Likelihood toe = fatigue::closed_form(std::log(0.1), 3, place, scatter);
  std::printf("chance of a crack: %.3g, index %.3f\n", toe.probability, toe.index);

  const fatigue::Paris paris;
  const double cycles = fatigue::growth_cycles(paris, 40, 2, 8, [](double) { return 1.0; });
  std::printf("a crack in a wide plate from 4 to 16 mm: %.4g cycles of 40 MPa\n", cycles);
  const fatigue::ThroughCrack around = fatigue::through_crack(19, 2, 0.5);
  std::printf("through the wall of a tube: %.3f times that in bending\n", around.bending);
  const fatigue::Interval look = fatigue::inspection_interval(30, 3, 20, 2e5, fatigue::by_magnetic_particles);
  std::printf("found by particles from %.1f mm on; look again after %.2f years\n", look.found_mm,
              look.interval_years);
}

// Held to an outside: the fit by another maximiser of the likelihood, k = 2.3356 by another non-central
// t; the index by hand, (2 * 0.4605 - 0.0862/2 + 2.3026) / sqrt(0.4605^2 + 0.0862 + 9 * 0.0492); growth 2
// (1/sqrt 2 - 1/sqrt 8) / (5.21e-13 * 40^3 pi^1.5); the factor and the interval by
// tests/published/formulas.
// Prints:
// tests: log a 12.0646, design 11.8898, 6 failures and 1 run-out
// chance of a crack: 0.00011, index 3.695
// a crack in a wide plate from 4 to 16 mm: 3.808e+06 cycles of 40 MPa
// through the wall of a tube: 1.288 times that in bending
// found by particles from 21.9 mm on; look again after 6.15 years
