// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/fatigue/prediction.h"

#include <algorithm>
#include <array>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <functional>
#include <limits>
#include <numeric>
#include <random>

#include "engine/machine/parallel.h"

namespace seamwright::fatigue {

namespace {

constexpr std::size_t samples = 1024;

// Use, from frame to frame: a trapezoid over four deviations.
constexpr std::size_t uses = 9;
constexpr std::size_t median_use = uses / 2;
double deviations_of_use(std::size_t u) { return -4 + 8.0 * static_cast<double>(u) / (uses - 1); }
std::array<double, uses> use_weights() {
  std::array<double, uses> w{};
  double sum = 0;
  for (std::size_t u = 0; u < uses; ++u) {
    sum += w.at(u) = std::exp(-0.5 * deviations_of_use(u) * deviations_of_use(u));
  }
  for (double& x : w) x /= sum;
  return w;
}
// ln of the life by the median curve for each use, what is shared being known.
struct Lives {
  std::array<double, uses> ln{};
  double curve = 0;
};

Lives lives_of(const Place& p, const Scatter& s, double ln_stress, double ln_miner) {
  Lives l;
  l.curve = p.curve;
  for (std::size_t u = 0; u < uses; ++u)
    l.ln.at(u) = ln_miner + p.below_mean * p.curve - ln_damage_at(p, ln_stress + s.use * deviations_of_use(u));
  return l;
}

double chance_of(const Lives& l, std::size_t u, double ln_t) {
  constexpr double certain = 8;  // deviations: 6e-16
  const double margin = l.ln[u] - ln_t;
  if (margin >= certain * l.curve) return 0;
  if (margin <= -certain * l.curve) return 1;
  return 0.5 * std::erfc(margin / l.curve / std::sqrt(2.0));
}

// A place with what it may be instead.
struct Either {
  Lives lives, instead;
  double share = 0;

  double chance(std::size_t u, double ln_t) const {
    const double as_it_should_be = chance_of(lives, u, ln_t);
    if (share == 0) return as_it_should_be;
    return (1 - share) * as_it_should_be + share * std::max(as_it_should_be, chance_of(instead, u, ln_t));
  }
  double own() const { return lives.ln.at(median_use); }
  double shortest() const { return share == 0 ? own() : std::min(own(), instead.ln.at(median_use)); }
};

// All places of a weld: the worst of them decides.
struct Known {
  std::vector<Either> places;

  double chance(std::size_t u, double ln_t) const {
    double most = 0;
    for (const Either& e : places) most = std::max(most, e.chance(u, ln_t));
    return most;
  }
  double own() const {
    double least = places[0].own();
    for (const Either& e : places) least = std::min(least, e.own());
    return least;
  }
  double shortest() const {
    double least = places[0].shortest();
    for (const Either& e : places) least = std::min(least, e.shortest());
    return least;
  }
};

Either either_of(const Place& p, const Scatter& s, double ln_shared, double local, double ln_miner) {
  Either e{lives_of(p, s, ln_shared + local * p.local_model, ln_miner), {}, 0};
  if (!p.instead) return e;
  e.instead = lives_of(*p.instead, s, ln_shared + local * p.instead->local_model, ln_miner);
  e.share = p.instead_share;
  return e;
}

Known known_of(const Place& p, const Scatter& s, double ln_shared, double local, double ln_miner) {
  Known k;
  const auto add = [&](const Place& place) {
    const Either e = either_of(place, s, ln_shared, local, ln_miner);
    // Of two with the same scatter the shorter life is the likelier crack, at any time.
    for (Either& other : k.places)
      if (e.share == 0 && other.share == 0 && e.lives.curve == other.lives.curve) {
        for (std::size_t u = 0; u < uses; ++u) other.lives.ln[u] = std::min(other.lives.ln[u], e.lives.ln[u]);
        return;
      }
    k.places.push_back(e);
  };
  add(p);
  for (const Place& other : p.beside) add(other);
  return k;
}

double median_chance(const Known& k, double ln_t) { return k.chance(median_use, ln_t); }

const std::array<double, uses> weights = use_weights();

// Chance that any place cracks, over all uses.
double chance_of_any(const std::vector<Known>& places, double ln_t) {
  double sum = 0;
  for (std::size_t u = 0; u < uses; ++u) {
    double none = 1;
    for (const Known& k : places) none *= 1 - k.chance(u, ln_t);
    sum += weights[u] * (1 - none);
  }
  return sum;
}

// A chance that rises with ln t reaches the target there; the bracket widens until it holds it.
double ln_time_of(const std::function<double(double)>& chance, double target, double near) {
  if (!std::isfinite(near)) return near;
  double low = near - 1, high = near + 1;
  for (int i = 0; i < 200 && chance(low) > target; ++i) low -= 1;
  for (int i = 0; i < 200 && chance(high) < target; ++i) high += 1;
  const auto beyond = [&](double ln_t) { return chance(ln_t) - target; };
  const double at_low = beyond(low), at_high = beyond(high);
  if (!(at_low < 0 && at_high > 0)) return at_low >= 0 ? low : high;
  std::uintmax_t most_steps = 60;
  const auto found = boost::math::tools::toms748_solve(beyond, low, high, at_low, at_high,
                                                       boost::math::tools::eps_tolerance<double>(36), most_steps);
  return 0.5 * (found.first + found.second);
}

double ln_life_of(const Known& k) {
  const bool exact = std::all_of(k.places.begin(), k.places.end(), [](const Either& e) { return e.share == 0; });
  return exact ? k.shortest() : ln_time_of([&](double ln_t) { return median_chance(k, ln_t); }, 0.5, k.shortest());
}

// The first crack of many places.
struct First {
  double shortest = std::numeric_limits<double>::infinity();
  std::vector<Known> near;  // places whose life is thirty times the shortest lie six deviations off: they add nothing

  // A short life that a place has with a small chance alone must not push the others out of sight.
  explicit First(const std::vector<Known>& places) {
    for (const Known& k : places) shortest = std::min(shortest, k.own());
    for (const Known& k : places)
      if (k.shortest() < shortest + std::log(30.0)) near.push_back(k);
  }
  double ln_life(double target) const {
    return ln_time_of([&](double ln_t) { return chance_of_any(near, ln_t); }, target, shortest);
  }
};

// One draw per stratum, in an order of its own: normal deviates.
std::vector<double> stratified(std::mt19937_64& engine) {
  const boost::math::normal_distribution<double> normal;
  std::vector<std::size_t> order(samples);
  std::iota(order.begin(), order.end(), std::size_t{0});
  for (std::size_t i = samples - 1; i > 0; --i) std::swap(order[i], order[engine() % (i + 1)]);
  std::vector<double> z;
  for (const std::size_t stratum : order) {
    const double within = (static_cast<double>(engine() >> 12) + 0.5) * 0x1p-52;
    z.push_back(boost::math::quantile(normal, (static_cast<double>(stratum) + within) / samples));
  }
  return z;
}

double share_below(std::vector<double> values, double share) {
  std::sort(values.begin(), values.end());
  const double at = share * static_cast<double>(values.size() - 1);
  const auto i = static_cast<std::size_t>(at);
  if (i + 1 >= values.size() || values[i] == values[i + 1]) return values[i];
  return values[i] + (at - static_cast<double>(i)) * (values[i + 1] - values[i]);
}

// Samples of one quantity over what is shared.
struct OverShared {
  std::vector<double> ln_life = std::vector<double>(samples), ln_first_tenth = ln_life, cracked = ln_life;
  void into(Prediction& p) const {
    p.life.low = std::exp(share_below(ln_life, 0.1));
    p.life.high = std::exp(share_below(ln_life, 0.9));
    p.cracked.low = share_below(cracked, 0.1);
    p.cracked.high = share_below(cracked, 0.9);
  }
};

struct Draws {
  std::vector<double> shared;
  std::vector<std::vector<double>> local, miner;  // places x samples
  // A place's draws hang on its name alone: not on its neighbours, nor on its rank among them.
  explicit Draws(const std::vector<Place>& places) {
    std::mt19937_64 of_all(1);
    shared = stratified(of_all);
    for (const Place& p : places) {
      std::uint64_t seed = 0xcbf29ce484222325;  // FNV-1a
      for (const char c : p.id) seed = (seed ^ static_cast<unsigned char>(c)) * 0x100000001b3;
      std::mt19937_64 own(seed);
      local.push_back(stratified(own));
      miner.push_back(stratified(own));
    }
  }
};

}  // namespace

FramePrediction predict(const std::vector<Place>& places, const Scatter& s) {
  FramePrediction out;
  out.frame.cracked.mean = frame_likelihood(places, s).probability;
  for (const Place& p : places) {
    Prediction one;
    one.cracked.mean = place_likelihood(p, s).probability;
    const Known at_median = known_of(p, s, 0, 0, std::log(s.miner_median));
    one.life.median = std::exp(ln_life_of(at_median));
    one.life.first_tenth = std::exp(First({at_median}).ln_life(0.1));
    out.places.push_back(one);
  }
  const Draws draws(places);
  OverShared frame;
  std::vector<OverShared> each(places.size());
  machine::over_tasks(samples, 0, [&](std::size_t i) {
    std::vector<Known> known;
    std::array<double, uses> none;
    none.fill(1);
    for (std::size_t w = 0; w < places.size(); ++w) {
      known.push_back(known_of(places[w], s, s.of_design() * draws.shared[i], draws.local[w][i],
                               std::log(s.miner_median) + s.miner * draws.miner[w][i]));
      each[w].ln_life[i] = ln_life_of(known.back());
      for (std::size_t u = 0; u < uses; ++u) {
        const double chance = known.back().chance(u, 0);
        each[w].cracked[i] += weights[u] * chance;
        none[u] *= 1 - chance;
      }
    }
    const First first(known);
    frame.ln_life[i] = first.ln_life(0.5);
    frame.ln_first_tenth[i] = first.ln_life(0.1);
    for (std::size_t u = 0; u < uses; ++u) frame.cracked[i] += weights[u] * (1 - none[u]);
  });
  frame.into(out.frame);
  // Each place has a model error of its own, so that the first of many cracks comes earlier than with all errors at
  // their medians.
  out.frame.life.median = std::exp(share_below(frame.ln_life, 0.5));
  out.frame.life.first_tenth = std::exp(share_below(frame.ln_first_tenth, 0.5));
  for (std::size_t w = 0; w < places.size(); ++w) each[w].into(out.places[w]);
  return out;
}

}  // namespace seamwright::fatigue
