// SPDX-License-Identifier: GPL-3.0-or-later
// Curves from tests. Outside: NIST Statistical Reference Datasets, linear regression "Norris", with certified
// results (scaled so that it looks like fatigue); tolerance factors of Natrella, NBS Handbook 91, Table A-7
// [from memory].
#include "engine/fatigue/fit.h"
#include "tests/published/outside/outside.h"

#include <cmath>

using namespace seamwright;
using namespace seamwright::fatigue;
using seamwright::outside::Expected;

namespace {

// y, x of NIST StRD Norris.
const std::vector<std::pair<double, double>> norris{
    {0.1, 0.2},     {338.8, 337.4}, {118.1, 118.2}, {888.0, 884.6}, {9.2, 10.1},    {228.1, 226.5},
    {668.5, 666.3}, {998.5, 996.3}, {449.1, 448.6}, {778.9, 777.0}, {559.2, 558.2}, {0.3, 0.4},
    {0.1, 0.6},     {778.1, 775.5}, {668.8, 666.9}, {339.3, 338.0}, {448.9, 447.5}, {10.8, 11.6},
    {557.7, 556.0}, {228.3, 228.1}, {998.0, 995.8}, {888.8, 887.6}, {119.6, 120.2}, {0.3, 0.3},
    {0.6, 0.3},     {557.6, 556.8}, {339.3, 339.1}, {888.0, 887.2}, {998.5, 999.0}, {778.9, 779.0},
    {10.2, 11.1},   {117.6, 118.3}, {228.9, 229.2}, {668.4, 669.1}, {449.2, 448.9}, {0.2, 0.5}};

std::string refusal(const std::vector<Test>& tests, const FitOptions& options = {}) {
  try {
    fit_curve(tests, options);
  } catch (const Fault& f) {
    return f.what();
  }
  return "";
}

}  // namespace

TEST_CASE("certified regression of NIST, scaled: log S = x / 500, log N = (1200 - y) / 100") {
  SOURCE(measured, "NIST Statistical Reference Datasets, linear regression \"Norris\", certified results",
         "certified digits");
  std::vector<Test> tests;
  for (const auto& [y, x] : norris)
    tests.push_back({std::pow(10, x / 500), std::pow(10, (1200 - y) / 100), false});
  const Fit f = fit_curve(tests, {});
  CHECK(f.slope == Expected(1.00211681802045 * 5).epsilon(1e-10));
  CHECK(f.log_a == Expected(12 + 0.262323073774029 / 100).epsilon(1e-12));
  CHECK(f.deviation == Expected(0.884796396144373 / 100).epsilon(1e-8));
  CHECK(f.outliers.empty());
}

TEST_CASE("tolerance factors of the handbook") {
  SOURCE(recalled, "Natrella, NBS Handbook 91, Table A-7", "half the last printed digit");
  CHECK(tolerance_factor(10, 9, 0.95, 0.95) == Expected(2.911).epsilon(5e-4));
  CHECK(tolerance_factor(10, 9, 0.95, 0.75) == Expected(2.104).epsilon(5e-4));
  CHECK(tolerance_factor(20, 19, 0.95, 0.95) == Expected(2.396).epsilon(5e-4));
  CHECK(tolerance_factor(1e5, 1e5 - 1, 0.95, 0.75) ==
        Expected(1.645).epsilon(5e-3));  // what a known deviation asks
}

TEST_CASE("a fixed slope leaves the mean of the shifted lives") {
  SOURCE(closed_form, "Mean of the shifted logarithms", "rounding of the arithmetic");
  const std::vector<Test> tests{{100, 1e5, false}, {100, 2e5, false}, {200, 2e4, false}, {200, 3e4, false}};
  const Fit f = fit_curve(tests, {3.0, 0.95, 0.75});
  double mean = 0;
  for (const Test& t : tests) mean += (std::log10(t.cycles) + 3 * std::log10(t.range_mpa)) / 4;
  CHECK(f.log_a == Expected(mean).epsilon(1e-12));
  CHECK(f.slope == 3);
  CHECK(f.design_mpa_2e6 < f.mean_mpa_2e6);
  CHECK(f.evidence.notes.size() == 1);  // fewer than ten
}

TEST_CASE("run-outs raise the mean curve, never lower it") {
  OURS;
  std::vector<Test> tests{
      {150, 1e5, false}, {150, 2e5, false}, {100, 5e5, false}, {100, 9e5, false}, {120, 4e5, false}};
  const Fit without = fit_curve(tests, {3.0, 0.95, 0.75});
  tests.push_back({80, 5e6, true});
  const Fit with = fit_curve(tests, {3.0, 0.95, 0.75});
  CHECK(with.log_a > without.log_a);
  CHECK(with.run_outs == 1);
  tests.back() = {80, 10, true};  // says nothing
  CHECK(fit_curve(tests, {3.0, 0.95, 0.75}).log_a == Expected(without.log_a).epsilon(1e-6));
}

TEST_CASE("one far off is an outlier") {
  OURS;
  std::vector<Test> tests;
  for (int i = 0; i < 12; ++i)
    tests.push_back({100.0 + 10 * i, 2e5 * std::pow(1 + 0.1 * i, -3) * (i % 2 ? 1.05 : 0.95), false});
  tests.push_back({150, 2e6, false});
  const Fit f = fit_curve(tests, {3.0, 0.95, 0.75});
  REQUIRE(f.outliers.size() == 1);
  CHECK(f.outliers[0] == 12);
}

TEST_CASE("what no curve can come from") {
  OURS;
  CHECK(refusal({{100, 1e6, true}, {90, 1e6, true}, {80, 1e6, true}}) == "fit.all-run-outs");
  CHECK(refusal({{100, 1e5, false}, {90, 1e6, false}}) == "fit.too-few");
  CHECK(refusal({{100, 1e5, false}, {100, 2e5, false}, {100, 3e5, false}}) == "fit.equal-ranges");
  CHECK(refusal({{100, 1e5, false}, {100, 2e5, false}, {100, 3e5, false}}, {3.0, 0.95, 0.75}).empty());
  CHECK(refusal({{-100, 1e5, false}, {100, 2e5, false}, {90, 3e5, false}}) == "fit.bad-test");
  CHECK(refusal({{100, 0, false}, {100, 2e5, false}, {90, 3e5, false}}) == "fit.bad-test");
  CHECK(refusal({{100, 1e5, false}, {110, 2e5, false}, {90, 3e5, false}}, {0.5, 0.95, 0.75}) ==
        "fit.bad-wish");
  CHECK(refusal({{100, 1e5, false}, {110, 2e5, false}, {90, 3e5, false}}, {3.0, 1.0, 0.75}) ==
        "fit.bad-wish");
  CHECK(refusal({}) == "fit.all-run-outs");
}
