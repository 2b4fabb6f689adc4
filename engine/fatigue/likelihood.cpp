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
       {s.loads, s.frame_model, s.use, s.miner, place ? place->curve : 0, place ? place->local_model : 0})
    if (!(d >= 0 && d < 10)) throw Fault{Message{"fatigue.bad-scatter", {number("deviation", d, "")}}};
  if (!(s.miner_median > 0)) throw Fault{Message{"fatigue.bad-scatter", {number("deviation", s.miner_median, "")}}};
}

// Chance of a crack at a place when the stress shared by all is known: only the place's own scatter is left.
// Local stress is integrated as the curve bends; curve and Miner sum are log-normal.
double chance_as_it_should_be(const Place& p, const Scatter& s, double ln_common) {
  const double own = std::hypot(p.curve, s.miner);
  const auto chance_at = [&](double ln_stress) {
    const double margin = p.below_mean * p.curve + std::log(s.miner_median) - ln_damage_at(p, ln_stress);
    return own > 0 ? chance(margin / own) : (margin < 0 ? 1.0 : 0.0);
  };
  if (p.local_model == 0) return chance_at(ln_common);
  constexpr int steps = 24;  // trapezoid over +-6 deviations, exact for smooth integrands
  double sum = 0, weight = 0;
  for (int i = 0; i <= steps; ++i) {
    const double z = -6 + 12.0 * i / steps, w = std::exp(-0.5 * z * z);
    sum += w * chance_at(ln_common + z * p.local_model);
    weight += w;
  }
  return sum / weight;
}

double chance_given(const Place& p, const Scatter& s, double ln_common) {
  double chance = chance_as_it_should_be(p, s, ln_common);
  if (p.instead) chance += p.instead_share * std::max(0.0, chance_given(*p.instead, s, ln_common) - chance);
  for (const Place& other : p.beside) chance = std::max(chance, chance_given(other, s, ln_common));
  return chance;
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

double faulty_share(int samples) { return samples > 0 ? 1 - std::pow(0.1, 1.0 / samples) : 1; }

double log_deviation(double v) { return std::sqrt(std::log1p(v * v)); }

double Scatter::common() const { return std::hypot(loads, frame_model, use); }

double Scatter::of_design() const { return std::hypot(loads, frame_model); }

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
  l.index = (place.below_mean * place.curve + std::log(s.miner_median) - ln_damage) / deviation;
  l.probability = chance(l.index);
  Evidence& e = l.evidence;
  e.figure = "reliability-index";
  e.value = l.index;
  e.source = {"jcss-pmc", "part 3, fatigue"};
  e.inputs = {{"probability of a crack", l.probability, ""},
              {"slope", slope, ""},
              {"deviation of the curve, ln N", place.curve, ""},
              {"deviation of the stress, ln", stress, ""},
              {"median of the Miner sum", s.miner_median, ""},
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
    const double probability = p.counted_share * place_likelihood(p, s).probability;
    f.lower = std::max(f.lower, probability);
    survives += std::log1p(-std::min(probability, 1.0));
  }
  f.upper = -std::expm1(survives);
  f.probability = over_common(s.common(), [&](double common) {
    double none = 0;
    for (const Place& p : places) none += std::log1p(-std::min(p.counted_share * chance_given(p, s, common), 1.0));
    return -std::expm1(none);
  });
  f.index = index_of(f.probability);
  return f;
}

namespace {

// A place made ready for many samples. Most samples are far from a crack: with the local stress below five
// deviations the place cracks only if its own draw lies below a bound that grows with the shared stress; only
// then, or beyond five, the draws are turned into deviations. No sample is judged otherwise than by its
// draws.
struct Sampled {
  static constexpr int cells = 256;  // of the shared stress, from -8 to 8 deviations
  static constexpr double rare = 5;
  const Place& place;
  double own, bound_of_margin;
  std::vector<double> bounds;

  Sampled(const Place& p, const Scatter& s)
      : place(p),
        own(std::hypot(p.curve, s.miner)),
        bound_of_margin(p.below_mean * p.curve + std::log(s.miner_median)) {
    const double common = s.common();
    for (int i = 0; i < cells; ++i)
      bounds.push_back(chance_at(common * (-8 + 16.0 * (i + 1) / cells) + rare * p.local_model));
    bounds.push_back(1);  // beyond
  }
  double chance_at(double ln_stress) const {
    const double margin = bound_of_margin - ln_damage_at(place, ln_stress);
    return own > 0 ? chance(margin / own) : (margin < 0 ? 1.0 : 0.0);
  }
  bool cracks(double ln_common, double local_draw, double own_draw) const {
    const boost::math::normal_distribution<double> normal;
    const double local =
        place.local_model > 0 ? place.local_model * boost::math::quantile(normal, local_draw) : 0;
    return own_draw < chance_at(ln_common + local);
  }
};

// Open interval, so that a quantile is finite.
double draw(std::mt19937_64& engine) { return (static_cast<double>(engine() >> 12) + 0.5) * 0x1p-52; }

}  // namespace

namespace {

// One place, and what it may be instead.
struct Sample {
  Sampled as_it_should_be;
  std::vector<Sampled> instead;  // one or none
};

std::vector<std::vector<Sample>> samples_of(const std::vector<Place>& places, const Scatter& s) {
  std::vector<std::vector<Sample>> all;
  const auto add = [&](const Place& p) {
    check(s, &p);
    all.back().push_back({Sampled(p, s), {}});
    if (p.instead) all.back().back().instead.emplace_back(*p.instead, s);
  };
  for (const Place& p : places) {
    all.emplace_back();
    add(p);
    for (const Place& other : p.beside) add(other);
  }
  return all;
}

}  // namespace

SimulatedChance simulate(const std::vector<Place>& places, const Scatter& s, std::size_t samples,
                         std::uint64_t seed) {
  const std::vector<std::vector<Sample>> ready = samples_of(places, s);
  std::mt19937_64 engine(seed);
  const boost::math::normal_distribution<double> normal;
  const double far = boost::math::cdf(normal, Sampled::rare);
  std::size_t cracked = 0;
  for (std::size_t i = 0; i < samples; ++i) {
    const double z = boost::math::quantile(normal, draw(engine)), common = s.common() * z;
    const auto cell =
        static_cast<std::size_t>(std::clamp((z + 8) * Sampled::cells / 16, 0.0, double{Sampled::cells}));
    const bool any = std::any_of(ready.begin(), ready.end(), [&](const std::vector<Sample>& weld) {
      const double own_draw = draw(engine), local_draw = draw(engine), fault_draw = draw(engine);
      return std::any_of(weld.begin(), weld.end(), [&](const Sample& sample) {
        const Place& place = sample.as_it_should_be.place;
        const Sampled& p = place.instead && fault_draw < place.instead_share ? sample.instead[0] : sample.as_it_should_be;
        return (own_draw < p.bounds[cell] || local_draw >= far) && p.cracks(common, local_draw, own_draw);
      });
    });
    if (any) ++cracked;
  }
  const double n = static_cast<double>(samples), share = static_cast<double>(cracked) / n;
  return {share, std::sqrt(share * (1 - share) / n)};
}

}  // namespace seamwright::fatigue
