// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/fatigue/likelihood.h"

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <random>

namespace seamwright::fatigue {

namespace {

double chance(double index) {
  return 0.5 * std::erfc(index / std::sqrt(2.0));  // exact in the far tail
}
double index_of(double probability) {
  if (!(probability > 0)) return std::numeric_limits<double>::infinity();
  if (!(probability < 1)) return -std::numeric_limits<double>::infinity();
  return -boost::math::quantile(boost::math::normal_distribution<double>(), probability);
}

void check(const Scatter& s, const Place* place) {
  for (const double d :
       {s.loads, s.frame_model, s.miner, place ? place->curve : 0, place ? place->local_model : 0})
    if (!(d >= 0 && d < 10)) throw Fault{Message{"fatigue.bad-scatter", {number("deviation", d, "")}}};
}

// Chance of a crack at a place when the stress shared by all is known: only the place's own scatter is left.
// Local stress is integrated as the curve bends; curve and Miner sum are log-normal.
double chance_given(const Place& p, const Scatter& s, double ln_common) {
  const double own = std::hypot(p.curve, s.miner);
  const auto at = [&](double ln_stress) {
    const double margin = p.below_mean * p.curve - 0.5 * s.miner * s.miner - ln_damage_at(p, ln_stress);
    return own > 0 ? chance(margin / own) : (margin < 0 ? 1.0 : 0.0);
  };
  if (p.local_model == 0) return at(ln_common);
  constexpr int steps = 24;  // trapezoid over +-6 deviations, exact for smooth integrands
  double sum = 0, weight = 0;
  for (int i = 0; i <= steps; ++i) {
    const double z = -6 + 12.0 * i / steps, w = std::exp(-0.5 * z * z);
    sum += w * at(ln_common + z * p.local_model);
    weight += w;
  }
  return sum / weight;
}

// Mean of a function of the shared stress.
template <typename F>
double over_common(double deviation, const F& f) {
  if (deviation == 0) return f(0.0);
  constexpr int steps = 64;
  double sum = 0, weight = 0;
  for (int i = 0; i <= steps; ++i) {
    const double z = -8 + 16.0 * i / steps, w = std::exp(-0.5 * z * z);
    sum += w * f(z * deviation);
    weight += w;
  }
  return sum / weight;
}

}  // namespace

double log_deviation(double v) { return std::sqrt(std::log1p(v * v)); }

double Scatter::common() const { return std::hypot(loads, frame_model); }

double ln_damage_at(const Place& p, double x) {
  const std::size_t n = p.ln_stress.size();
  const auto at = std::upper_bound(p.ln_stress.begin(), p.ln_stress.end(), x) - p.ln_stress.begin();
  const std::size_t i = std::clamp<std::size_t>(static_cast<std::size_t>(at), 1, n - 1);
  const double a = p.ln_damage[i - 1], b = p.ln_damage[i];
  if (std::isinf(a)) return std::isinf(b) || x < p.ln_stress[i] ? a : b;
  return a + (b - a) * (x - p.ln_stress[i - 1]) / (p.ln_stress[i] - p.ln_stress[i - 1]);
}

Likelihood closed_form(double ln_damage, double slope, const Place& place, const Scatter& s) {
  check(s, &place);
  const double stress = std::hypot(s.common(), place.local_model);
  const double deviation =
      std::sqrt(place.curve * place.curve + s.miner * s.miner + slope * slope * stress * stress);
  if (!(deviation > 0)) throw Fault{Message{"fatigue.bad-scatter", {number("deviation", deviation, "")}}};
  Likelihood l;
  l.index = (place.below_mean * place.curve - 0.5 * s.miner * s.miner - ln_damage) / deviation;
  l.probability = chance(l.index);
  Evidence& e = l.evidence;
  e.figure = "reliability-index";
  e.value = l.index;
  e.source = {"jcss-pmc", "part 3, fatigue"};
  e.inputs = {{"probability of a crack", l.probability, ""},
              {"slope", slope, ""},
              {"deviation of the curve, ln N", place.curve, ""},
              {"deviation of the stress, ln", stress, ""},
              {"deviation of the Miner sum, ln", s.miner, ""}};
  return l;
}

Likelihood place_likelihood(const Place& p, const Scatter& s) {
  check(s, &p);
  const double slope = (ln_damage_at(p, 0.05) - ln_damage_at(p, -0.05)) / 0.1;
  Likelihood l = closed_form(ln_damage_at(p, 0), std::isfinite(slope) ? slope : 0, p, s);
  l.probability = over_common(s.common(), [&](double common) { return chance_given(p, s, common); });
  l.index = index_of(l.probability);
  l.evidence.value = l.index;
  l.evidence.inputs[0].value = l.probability;
  return l;
}

FrameLikelihood frame_likelihood(const std::vector<Place>& places, const Scatter& s) {
  FrameLikelihood f;
  double survives = 0;  // ln of the chance that no independent place cracks
  for (const Place& p : places) {
    const double probability = place_likelihood(p, s).probability;
    f.lower = std::max(f.lower, probability);
    survives += std::log1p(-std::min(probability, 1.0));
  }
  f.upper = -std::expm1(survives);
  f.probability = over_common(s.common(), [&](double common) {
    double none = 0;
    for (const Place& p : places) none += std::log1p(-std::min(chance_given(p, s, common), 1.0));
    return -std::expm1(none);
  });
  f.index = index_of(f.probability);
  return f;
}

Simulated simulate(const std::vector<Place>& places, const Scatter& s, std::size_t samples,
                   std::uint64_t seed) {
  for (const Place& p : places) check(s, &p);
  std::mt19937_64 engine(seed);
  std::normal_distribution<double> normal;
  const double common_deviation = s.common();
  std::size_t cracked = 0;
  for (std::size_t i = 0; i < samples; ++i) {
    const double common = common_deviation * normal(engine);
    bool crack = false;
    for (const Place& p : places) {
      if (crack) break;
      const double own = std::hypot(p.curve, s.miner);
      const double stress = common + (p.local_model > 0 ? p.local_model * normal(engine) : 0);
      const double margin = p.below_mean * p.curve - 0.5 * s.miner * s.miner - ln_damage_at(p, stress);
      crack = margin + own * normal(engine) < 0;
    }
    cracked += crack ? 1 : 0;
  }
  const double n = static_cast<double>(samples), share = static_cast<double>(cracked) / n;
  return {share, std::sqrt(share * (1 - share) / n)};
}

double load_factor_for(double index, double slope, double curve, double below_mean, double stress,
                       double miner) {
  const double deviation = std::sqrt(curve * curve + miner * miner + slope * slope * stress * stress);
  return std::exp((index * deviation + 0.5 * miner * miner - below_mean * curve) / slope);
}

}  // namespace seamwright::fatigue
