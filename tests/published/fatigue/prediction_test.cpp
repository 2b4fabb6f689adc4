// SPDX-License-Identifier: GPL-3.0-or-later
// Predicted lives against closed forms of normal variables: one slope, one place, many places, and what is shared.
#include <cmath>

#include "engine/fatigue/prediction.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::fatigue;
using seamwright::outside::Expected;

namespace {

const double decade = std::log(10.0);
constexpr double tenth = 1.2815515655446004;  // normal quantile of 0.9

// Damage D of a service at the stress as it is, one slope.
Place weld_place(double damage, double slope, double log_n_deviation, double local_model = 0) {
  Place p;
  p.ln_stress = {-2, 2};
  p.ln_damage = {std::log(damage) - 2 * slope, std::log(damage) + 2 * slope};
  p.curve = log_n_deviation * decade;
  p.local_model = local_model;
  return p;
}

Scatter scatter(double loads, double use, double miner_median, double miner_log10) {
  Scatter s;
  s.loads = loads;
  s.use = use;
  s.miner_median = miner_median;
  s.miner = miner_log10 * decade;
  return s;
}

}  // namespace

TEST_CASE("the median life of a place is Miner's sum over the damage by the median curve") {
  SOURCE(closed_form, "N = median sum / D, with D by the curve two deviations above the characteristic one", "digits of the evaluation");
  const FramePrediction p = predict({weld_place(0.25, 3, 0.2)}, scatter(0.1, 0.2, 0.5, 0.25));
  CHECK(p.places[0].life.median == Expected(0.5 * std::pow(10, 0.4) / 0.25).epsilon(1e-12));
  CHECK(p.places[0].cracked.mean ==
        Expected(place_likelihood(weld_place(0.25, 3, 0.2), scatter(0.1, 0.2, 0.5, 0.25)).probability).epsilon(1e-12));
}

TEST_CASE("what all frames share makes the interval, what each has makes the first tenth") {
  SOURCE(closed_form, "Quantile 1.2816 of a sum of normal variables, shared ones and own ones apart", "Two standard errors of the quantile of 1024 plain samples: sqrt(0.09 / 1024) / 0.1755 = 0.053 deviations; digits of the root");
  const double m = 3, loads = 0.15, local = 0.2, use = 0.12, miner = 0.25 * decade, curve = 0.2 * decade;
  const FramePrediction p = predict({weld_place(0.1, m, 0.2, local)}, scatter(loads, use, 0.5, 0.25));
  const PredictedLife& life = p.places[0].life;
  const double shared = std::hypot(m * loads, m * local, miner), own = std::hypot(curve, m * use);
  const double sampled = 2 * 0.053;
  CHECK(std::log(life.low / life.median) / shared == Expected(-tenth).epsilon(sampled / tenth));
  CHECK(std::log(life.high / life.median) / shared == Expected(tenth).epsilon(sampled / tenth));
  CHECK(std::log(life.first_tenth / life.median) == Expected(-tenth * own).epsilon(2e-3));
  // The share of cracked frames at the tenth of what is shared: Phi(-(ln life - 1.2816 shared) / own).
  const auto share = [&](double z) { return 0.5 * std::erfc((std::log(life.median) + z * shared) / own / std::sqrt(2.0)); };
  CHECK(p.places[0].cracked.low > share(tenth + sampled));
  CHECK(p.places[0].cracked.low < share(tenth - sampled));
  CHECK(p.places[0].cracked.high > share(-tenth + sampled));
  CHECK(p.places[0].cracked.high < share(-tenth - sampled));
}

TEST_CASE("the first crack of a hundred like welds comes by the order statistic of the first") {
  SOURCE(closed_form, "1 - (1 - p)^n = 1/2: median of the smallest of n", "digits of the root");
  const std::vector<Place> hundred(100, weld_place(0.1, 3, 0.2));
  const FramePrediction p = predict(hundred, scatter(0, 0, 1, 0));
  const double first = 1 - std::pow(0.5, 0.01);
  // Phi(z) = first: z by bisection, apart from the code under test.
  double low = -6, high = 0;
  for (int i = 0; i < 100; ++i) {
    const double middle = (low + high) / 2;
    (0.5 * std::erfc(-middle / std::sqrt(2.0)) < first ? low : high) = middle;
  }
  CHECK(std::log(p.frame.life.median / p.places[0].life.median) == Expected(low * 0.2 * decade).epsilon(1e-6));
  CHECK(p.frame.life.low == Expected(p.frame.life.high));  // nothing is shared
}

TEST_CASE("what frames share does not spread over them: with nothing of their own all crack or none") {
  OURS;
  const FramePrediction p = predict({weld_place(0.5, 3, 0)}, scatter(0.3, 0, 0.5, 0.25));
  CHECK(p.frame.cracked.low == 0);
  CHECK(p.frame.cracked.high == Expected(1).epsilon(1e-12));
  CHECK(p.frame.life.first_tenth == Expected(p.frame.life.median).epsilon(1e-6));
}

TEST_CASE("twice the damage halves every life, and a place beside another never lengthens one") {
  OURS;
  const Scatter s = scatter(0.1, 0.1, 0.5, 0.25);
  const Place toe = weld_place(0.2, 3, 0.2, 0.3), more = weld_place(0.4, 3, 0.2, 0.3);
  Place root = weld_place(0.15, 3, 0.3, 0.2);
  root.id = "root";
  const FramePrediction once = predict({toe, root}, s), twice = predict({more, root}, s);
  CHECK(twice.places[0].life.low == Expected(once.places[0].life.low / 2).epsilon(1e-9));
  CHECK(twice.places[0].life.high == Expected(once.places[0].life.high / 2).epsilon(1e-9));
  CHECK(twice.frame.life.median < once.frame.life.median);
  CHECK(predict({root, toe}, s).frame.life.median == Expected(once.frame.life.median).epsilon(1e-9));  // whatever their order
  CHECK(twice.frame.cracked.high > once.frame.cracked.high);
  Place weld = toe;
  weld.beside = {root};
  const FramePrediction joined = predict({weld}, s);
  CHECK(joined.places[0].life.median == Expected(std::min(once.places[0].life.median, once.places[1].life.median)));
  CHECK(joined.places[0].life.low <= once.places[0].life.low);
  CHECK(joined.places[0].cracked.mean >= std::max(once.places[0].cracked.mean, once.places[1].cracked.mean));
  CHECK(joined.frame.cracked.mean <= once.frame.cracked.mean);  // one weld, not two
  const SimulatedChance found = simulate({weld}, s, 200000, 3);
  CHECK(std::abs(found.probability - joined.frame.cracked.mean) < 4 * found.standard_error);
}

TEST_CASE("a place that may be another one has a median between both, and no damage has no end") {
  OURS;
  Place good = weld_place(0.01, 3, 0.2);
  const Place bad = weld_place(10, 3, 0.2);
  const Scatter s = scatter(0.1, 0.1, 0.5, 0.25);
  const double alone = predict({good}, s).places[0].life.median;
  good.instead = std::make_shared<const Place>(bad);
  good.instead_share = 0.44;
  const PredictedLife mixed = predict({good}, s).places[0].life;
  CHECK(mixed.median < alone);
  CHECK(mixed.median > predict({bad}, s).places[0].life.median);
  CHECK(mixed.first_tenth < 2 * predict({bad}, s).places[0].life.median);
  Place none = weld_place(1, 3, 0.2);
  none.ln_damage = {-std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
  const FramePrediction calm = predict({none}, s);
  CHECK(std::isinf(calm.frame.life.median));
  CHECK(std::isinf(calm.frame.life.low));
  CHECK(calm.frame.cracked.high == 0);
  CHECK(std::isinf(predict({}, s).frame.life.median));
  CHECK_THROWS_AS(predict({weld_place(1, 3, -0.1)}, s), Fault);
}

TEST_CASE("a place that may be far worse with a small chance hides none of the others") {
  // Nine welds alike, the tenth with a chance of 1 % of a life a thousand times shorter.
  SOURCE(closed_form, "P(first crack before t) = 1 - product of (1 - P_i(t)): another weld never makes the first crack later", "none: an order");
  const Scatter s = scatter(0.1, 0.1, 0.5, 0.25);
  std::vector<Place> alike;
  for (int i = 0; i < 9; ++i) {
    alike.push_back(weld_place(0.01, 3, 0.2, 0.1));
    alike.back().id = "W" + std::to_string(i);
  }
  const double before = predict(alike, s).frame.life.median;
  Place perhaps = weld_place(0.005, 3, 0.2, 0.1);
  perhaps.id = "W9";
  perhaps.instead = std::make_shared<const Place>(weld_place(10, 3, 0.2, 0.1));
  perhaps.instead_share = 0.01;
  alike.push_back(perhaps);
  const double after = predict(alike, s).frame.life.median;
  CHECK(after <= before);
  CHECK(after > 0.8 * before);
}
