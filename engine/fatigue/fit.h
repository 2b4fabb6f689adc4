// SPDX-License-Identifier: GPL-3.0-or-later
// An S-N curve from tests: log10 N = log_a - slope log10 S with normal scatter, run-outs as lower bounds
// (maximum likelihood), and a design curve as a tolerance limit. Sources: the likelihood of censored normal
// data; tolerance factor by the non-central t distribution (ISO 16269-6); Grubbs' test for outliers (ISO
// 16269-4).
#pragma once

#include <optional>
#include <vector>

#include "engine/evidence/evidence.h"

namespace seamwright::fatigue {

struct Test {
  double range_mpa = 0, cycles = 0;
  bool run_out = false;
};

struct FitOptions {
  std::optional<double> slope;  ///< fixed; else found
  double survival = 0.95, confidence = 0.75;
};

struct Fit {
  double slope = 0, log_a = 0;  ///< mean curve
  double deviation = 0;         ///< of log10 N, corrected for the parameters found
  double tolerance_factor = 0;  ///< k at the middle of the tests
  double design_log_a = 0;      ///< log_a - k deviation
  double mean_mpa_2e6 = 0, design_mpa_2e6 = 0;
  std::size_t failures = 0, run_outs = 0;
  std::vector<double>
      residuals;  ///< per test, in deviations; of a run-out how far its bound lies from the mean
  std::vector<std::size_t> outliers;  ///< failures beyond Grubbs' bound at 5 %, one at a time
  Evidence evidence;
};

/// k for a normal sample: with it a share `survival` lies above mean - k s with the stated confidence. n:
/// effective number at the place; freedom: n less what was estimated besides the deviation's mean.
double tolerance_factor(double n, double freedom, double survival, double confidence);

/// Throws Fault "fit.bad-test" (a number that is not positive and finite), "fit.all-run-outs", "fit.too-few"
/// (fewer than three failures, or than the parameters need), "fit.equal-ranges" (no slope can be found),
/// "fit.bad-wish" (survival or confidence not between 0.5 and 1, slope not 1..30). Notes: fewer than ten
/// tests, outliers, a rising curve.
Fit fit_curve(const std::vector<Test>& tests, const FitOptions& options);

}  // namespace seamwright::fatigue
