// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/fatigue/fit.h"

#include <algorithm>
#include <boost/math/distributions/non_central_t.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>

namespace seamwright::fatigue {

namespace {

double density(double z) { return std::exp(-0.5 * z * z) / std::sqrt(2 * 3.14159265358979323846); }
double normal_tail(double z) { return 0.5 * std::erfc(z / std::sqrt(2.0)); }

struct Line {
  double log_a = 0, slope = 0, deviation = 0;
  double log_life_at(double x) const { return log_a - slope * x; }
};

// Least squares of y on x with the slope found or fixed; the deviation from the sum of squares given with y.
Line through(const std::vector<double>& x, const std::vector<double>& y, const std::optional<double>& slope) {
  const double n = static_cast<double>(x.size());
  double mx = 0, my = 0, sxx = 0, sxy = 0;
  for (std::size_t i = 0; i < x.size(); ++i) mx += x[i] / n, my += y[i] / n;
  for (std::size_t i = 0; i < x.size(); ++i) {
    sxx += (x[i] - mx) * (x[i] - mx);
    sxy += (x[i] - mx) * (y[i] - my);
  }
  Line line;
  line.slope = slope ? *slope : -sxy / sxx;
  line.log_a = my + line.slope * mx;
  return line;
}

// Expectation maximisation for run-outs: each stands for the mean of what lies above its bound. Converges to
// the maximum of the likelihood, which has one peak for censored normal data.
Line most_likely(const std::vector<double>& x, const std::vector<double>& y, const std::vector<Test>& tests,
                 const std::optional<double>& slope) {
  const double n = static_cast<double>(x.size());
  std::vector<double> filled = y;
  Line line = through(x, filled, slope);
  line.deviation = 0.2;
  for (int round = 0; round < 20000; ++round) {
    double extra = 0;  // variance of what the run-outs may be
    for (std::size_t i = 0; i < x.size(); ++i) {
      if (!tests[i].run_out) continue;
      const double z = (y[i] - line.log_life_at(x[i])) / line.deviation, tail = normal_tail(z);
      const double hazard = tail > 1e-300 ? density(z) / tail : z + 1 / z;
      filled[i] = line.log_life_at(x[i]) + line.deviation * hazard;
      extra += line.deviation * line.deviation * (1 - hazard * (hazard - z));
    }
    Line next = through(x, filled, slope);
    double squares = extra;
    for (std::size_t i = 0; i < x.size(); ++i) squares += std::pow(filled[i] - next.log_life_at(x[i]), 2);
    next.deviation = std::sqrt(std::max(squares / n, 1e-20));
    const double change = std::abs(next.log_a - line.log_a) + std::abs(next.slope - line.slope) +
                          std::abs(next.deviation - line.deviation);
    line = next;
    if (change < 1e-12 * (1 + std::abs(line.log_a))) break;
  }
  return line;
}

void check(const std::vector<Test>& tests, const FitOptions& options) {
  const auto inside = [](double p) { return p > 0.5 && p < 1; };
  if (!inside(options.survival) || !inside(options.confidence) ||
      (options.slope && !(*options.slope >= 1 && *options.slope <= 30)))
    throw Fault{
        Message{"fit.bad-wish",
                {number("survival", options.survival, ""), number("confidence", options.confidence, "")}}};
  std::size_t failures = 0;
  double least = std::numeric_limits<double>::infinity(), most = 0;
  for (const Test& t : tests) {
    if (!(t.range_mpa > 0 && t.range_mpa < 1e5 && t.cycles >= 1 && t.cycles < 1e15))
      throw Fault{
          Message{"fit.bad-test", {number("range", t.range_mpa, "MPa"), number("cycles", t.cycles, "")}}};
    if (t.run_out) continue;
    ++failures;
    least = std::min(least, t.range_mpa);
    most = std::max(most, t.range_mpa);
  }
  if (failures == 0)
    throw Fault{Message{"fit.all-run-outs",
                        {number("tests", static_cast<double>(tests.size()), ""),
                         sentence_argument("remedy", "remedy.test-higher")}}};
  if (failures < 3)
    throw Fault{Message{"fit.too-few", {number("failures", static_cast<double>(failures), "")}}};
  if (!options.slope && !(most > least * (1 + 1e-6)))
    throw Fault{Message{"fit.equal-ranges", {number("range", most, "MPa")}}};
}

// Grubbs' bound for n values at 5 %, two-sided.
double grubbs(double n) {
  const boost::math::students_t_distribution<double> t(n - 2);
  const double q = boost::math::quantile(boost::math::complement(t, 0.05 / (2 * n)));
  return (n - 1) / std::sqrt(n) * std::sqrt(q * q / (n - 2 + q * q));
}

}  // namespace

double tolerance_factor(double n, double freedom, double survival, double confidence) {
  const double z = boost::math::quantile(boost::math::normal_distribution<double>(), survival);
  const boost::math::non_central_t_distribution<double> t(freedom, z * std::sqrt(n));
  return boost::math::quantile(t, confidence) / std::sqrt(n);
}

Fit fit_curve(const std::vector<Test>& tests, const FitOptions& options) {
  check(tests, options);
  std::vector<double> x, y;
  for (const Test& t : tests) {
    x.push_back(std::log10(t.range_mpa));
    y.push_back(std::log10(t.cycles));
  }
  const Line line = most_likely(x, y, tests, options.slope);
  Fit f;
  for (const Test& t : tests) ++(t.run_out ? f.run_outs : f.failures);
  const double n = static_cast<double>(f.failures), freedom = n - (options.slope ? 1 : 2);
  f.slope = line.slope;
  f.log_a = line.log_a;
  f.deviation = line.deviation * std::sqrt(n / freedom);
  f.tolerance_factor = tolerance_factor(n, freedom, options.survival, options.confidence);
  f.design_log_a = f.log_a - f.tolerance_factor * f.deviation;
  const double log_2e6 = std::log10(2e6);
  f.mean_mpa_2e6 = std::pow(10, (f.log_a - log_2e6) / f.slope);
  f.design_mpa_2e6 = std::pow(10, (f.design_log_a - log_2e6) / f.slope);
  const double bound = grubbs(n);
  for (std::size_t i = 0; i < tests.size(); ++i) {
    f.residuals.push_back((y[i] - line.log_life_at(x[i])) / std::max(f.deviation, 1e-12));
    if (!tests[i].run_out && f.deviation > 1e-9 && std::abs(f.residuals[i]) > bound) f.outliers.push_back(i);
  }
  Evidence& e = f.evidence;
  e.figure = "fitted-curve";
  e.value = f.design_mpa_2e6;
  e.unit = "MPa";
  e.source = {"iso-16269-6", "tolerance limits, unknown mean and deviation"};
  e.inputs = {{"slope", f.slope, ""},
              {"log_a", f.log_a, ""},
              {"deviation of log N", f.deviation, ""},
              {"tolerance_factor", f.tolerance_factor, ""},
              {"design log_a", f.design_log_a, ""},
              {"failures", n, ""},
              {"run-outs", static_cast<double>(f.run_outs), ""}};
  if (f.failures < 10) e.notes.push_back({"fit.few", {number("failures", n, "")}});
  if (!f.outliers.empty())
    e.notes.push_back({"fit.outliers", {number("count", static_cast<double>(f.outliers.size()), "")}});
  if (!(f.slope > 1)) e.notes.push_back({"fit.flat", {number("slope", f.slope, "")}});
  return f;
}

}  // namespace seamwright::fatigue
