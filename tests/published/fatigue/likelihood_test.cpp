// SPDX-License-Identifier: GPL-3.0-or-later
// Likelihood of a crack: independent evaluations of the closed form (JCSS Probabilistic Model Code, part 3:
// Miner sum with mean 1 and V 0.3), limits that hold for any series, and simulation against quadrature.
#include <cmath>

#include "engine/fatigue/likelihood.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::fatigue;
using seamwright::outside::Expected;

namespace {

const double ln10 = std::log(10.0);

// Damage D at the stress as it is, one slope.
Place place(double damage, double slope, double log_n_deviation) {
  Place p;
  p.id = "W";
  p.ln_stress = {-2, 2};
  p.ln_damage = {std::log(damage) - 2 * slope, std::log(damage) + 2 * slope};
  p.curve = log_n_deviation * ln10;
  return p;
}
// Mean 1: the median lies below it.
Scatter jcss(double loads, double frame_model) {
  const double miner = log_deviation(0.3);
  return {loads, frame_model, miner, std::exp(-0.5 * miner * miner)};
}
const Scatter only_miner = jcss(0, 0);

}  // namespace

TEST_CASE("index and probability of one place, Miner sum scattered") {
  SOURCE(
      evaluated,
      "JCSS Probabilistic Model Code, part 3: Miner sum with mean 1 and V 0.3; closed form evaluated apart",
      "digits of the evaluation");
  const auto at = [](double damage) { return place_likelihood(place(damage, 3, 0.20), only_miner); };
  CHECK(at(0.3).index == Expected(3.812).epsilon(3e-4));
  CHECK(at(0.3).probability == Expected(6.89e-5).epsilon(3e-3));
  CHECK(at(0.5).index == Expected(2.877).epsilon(3e-4));
  CHECK(at(0.5).probability == Expected(2.01e-3).epsilon(3e-3));
  CHECK(at(1.0).index == Expected(1.608).epsilon(4e-4));
  CHECK(at(1.0).probability == Expected(5.40e-2).epsilon(3e-3));
}

TEST_CASE("with the Miner sum exactly one the index is that of the curve") {
  SOURCE(closed_form, "beta = -log D / s for one normal variable", "digits of the evaluation");
  const Scatter none{};
  CHECK(place_likelihood(place(0.5, 3, 0.20), none).index == Expected(3.505).epsilon(3e-4));
  CHECK(place_likelihood(place(1.0, 3, 0.20), none).index == Expected(2));
  CHECK(place_likelihood(place(1.0, 3, 0.20), none).probability == Expected(0.02275).epsilon(1e-3));
}

TEST_CASE("with one slope quadrature is the closed form, loads and local model included") {
  SOURCE(closed_form, "Sum of normal variables", "step of the quadrature");
  Place p = place(0.2, 3, 0.2);
  p.local_model = log_deviation(0.2);
  const Scatter s = jcss(log_deviation(0.2), log_deviation(0.1));
  const Likelihood exact = closed_form(std::log(0.2), 3, p, s), found = place_likelihood(p, s);
  CHECK(found.probability == Expected(exact.probability).epsilon(1e-6));
  CHECK(found.index == Expected(exact.index).epsilon(1e-6));
}

TEST_CASE("samples without a fault leave a share that may be faulty") {
  SOURCE(closed_form, "Clopper & Pearson 1934 for no fault: (1 - p)^n = 0.1", "digits of the evaluation");
  CHECK(faulty_share(4) == Expected(0.43766).epsilon(1e-4));
  CHECK(faulty_share(1) == Expected(0.9));
  CHECK(faulty_share(22) == Expected(0.0994).epsilon(1e-3));
  CHECK(faulty_share(0) == 1);
  CHECK(faulty_share(-3) == 1);
}

TEST_CASE("a place that may be another one cracks by the shares of both, and simulation finds it so") {
  SOURCE(closed_form, "Total probability", "step of the quadrature; four standard errors");
  const Scatter s = jcss(log_deviation(0.2), log_deviation(0.1));
  Place good = place(0.05, 3, 0.2), bad = place(2, 3, 0.2);
  const double as_good = place_likelihood(good, s).probability, as_bad = place_likelihood(bad, s).probability;
  good.instead_share = faulty_share(4);
  good.instead = std::make_shared<const Place>(bad);
  const double mixed = (1 - good.instead_share) * as_good + good.instead_share * as_bad;
  CHECK(place_likelihood(good, s).probability == Expected(mixed).epsilon(1e-9));
  const FrameLikelihood frame = frame_likelihood({good, place(0.3, 3, 0.2)}, s);
  const SimulatedChance found = simulate({good, place(0.3, 3, 0.2)}, s, 200000, 7);
  CHECK(std::abs(found.probability - frame.probability) < 4 * found.standard_error);
  // Another place that would be better does not help.
  bad.instead_share = 0.5;
  bad.instead = std::make_shared<const Place>(place(0.05, 3, 0.2));
  CHECK(place_likelihood(bad, s).probability == Expected(as_bad).epsilon(1e-9));
}

TEST_CASE("a frame of equal places: independent, and all as one") {
  SOURCE(closed_form, "1 - (1 - p)^n when nothing is shared; p when all is", "step of the quadrature");
  const std::vector<Place> ten(10, place(0.5, 3, 0.2));
  const double p = place_likelihood(ten[0], only_miner).probability;
  const FrameLikelihood apart = frame_likelihood(ten, only_miner);  // nothing shared
  CHECK(apart.probability == Expected(1 - std::pow(1 - p, 10)).epsilon(1e-9));
  CHECK(apart.upper == Expected(apart.probability).epsilon(1e-9));
  CHECK(apart.lower == Expected(p).epsilon(1e-12));
  std::vector<Place> sure(10, place(0.5, 3, 0));  // only the loads scatter: all crack together
  const Scatter loads{0.3, 0, 0};
  const FrameLikelihood together = frame_likelihood(sure, loads);
  CHECK(together.probability == Expected(together.lower).epsilon(1e-9));
  const Scatter both = jcss(0.3, 0);
  const FrameLikelihood between = frame_likelihood(ten, both);
  CHECK(between.probability > between.lower);
  CHECK(between.probability < between.upper);
}

TEST_CASE("simulation finds what quadrature finds, with a bent damage line") {
  SOURCE(closed_form, "Quadrature of the same model", "four standard errors");
  Place p = place(0.3, 3, 0.25);
  p.ln_stress = {-1, 0, 1};
  p.ln_damage = {std::log(0.3) - 5, std::log(0.3), std::log(0.3) + 3};
  p.local_model = 0.2;
  std::vector<Place> places(6, p);
  const Scatter s = jcss(0.2, 0.1);
  const double exact = frame_likelihood(places, s).probability;
  const SimulatedChance found = simulate(places, s, 200000, 1);
  CHECK(std::abs(found.probability - exact) < 4 * found.standard_error);
  CHECK(found.standard_error < 0.05 * exact);
  CHECK(simulate(places, s, 1000, 7).probability == simulate(places, s, 1000, 7).probability);
}

TEST_CASE("no damage makes no crack and impossible scatter is refused") {
  OURS;
  Place p = place(1, 3, 0.2);
  p.ln_damage = {-std::numeric_limits<double>::infinity(), -std::numeric_limits<double>::infinity()};
  CHECK(frame_likelihood({p}, only_miner).probability == 0);
  CHECK_THROWS_AS(place_likelihood(place(1, 3, -0.1), only_miner), Fault);
  CHECK_THROWS_AS(closed_form(0, 3, place(1, 3, 0), Scatter{}), Fault);
  CHECK(frame_likelihood({}, only_miner).probability == 0);
}
