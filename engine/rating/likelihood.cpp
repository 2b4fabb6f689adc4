// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/likelihood.h"

#include <array>
#include <cmath>
#include <limits>
#include <optional>

#include "engine/rating/parallel.h"

namespace seamwright::rating {

namespace {

constexpr std::array<double, 9> multipliers{0.2, 0.35, 0.5, 0.7, 1, 1.4, 2, 3, 5};

// The most damaged site of a weld that a curve covers, which is not its first where another is not covered;
// npos without one.
std::size_t most_damaged(const WeldRating& weld) {
  std::size_t most = std::string::npos;
  for (std::size_t k = 0; k < weld.sites.size(); ++k) {
    const SiteRating& s = weld.sites[k];
    if (s.curve.empty() || !(s.damage_unfactored > 0)) continue;
    if (most == std::string::npos || s.damage_unfactored > weld.sites[most].damage_unfactored) most = k;
  }
  return most;
}

double chance_of(double index) { return 0.5 * std::erfc(index / std::sqrt(2.0)); }

}  // namespace

double target_index(const Rules& rules) {
  return rules.target_reliability > 0 ? rules.target_reliability : 3.8;
}

fatigue::Scatter scatter_of(const Rules& rules) {
  return {fatigue::log_deviation(rules.load_scatter), fatigue::log_deviation(0.10),
          fatigue::log_deviation(0.3)};
}

std::vector<fatigue::Place> places_of(const Job& job, const Service& service, const Order& order,
                                      const Rating& rating) {
  std::vector<std::optional<fatigue::Place>> found(order.size());
  over_tasks(order.size(), 0, [&](std::size_t w) {
    const std::size_t k = most_damaged(rating.welds[w]);
    if (k == std::string::npos) return;
    const SiteRating& rated = rating.welds[w].sites[k];
    const Site& site = service.sites[order[w][k]];
    fatigue::Place p;
    p.id = rating.welds[w].id;
    const double log_n = site.curve->scatter_log_n > 0 ? site.curve->scatter_log_n : 0.25;
    p.curve = log_n * std::log(10.0);
    p.below_mean = job.rules.set == "en1993" ? 1.645 : 2;
    if (site.kind.ends_with("toe") && site.curve->stress == fatigue::StressKind::hot_spot)
      p.local_model = fatigue::log_deviation(0.20);
    const double at_one = damage_per_year(service, job.range_model, order[w][k], 1);
    if (!(at_one > 0)) return;
    for (const double m : multipliers) {
      const double damage = m == 1 ? at_one : damage_per_year(service, job.range_model, order[w][k], m);
      p.ln_stress.push_back(std::log(m));
      p.ln_damage.push_back(std::log(damage / at_one * rated.damage_unfactored));
    }
    found[w] = std::move(p);
  });
  std::vector<fatigue::Place> places;
  for (auto& place : found)
    if (place) places.push_back(std::move(*place));
  return places;
}

void add_likelihood(const Job& job, const Service& service, const Order& order, Rating& rating) {
  const std::vector<fatigue::Place> places = places_of(job, service, order, rating);
  const fatigue::Scatter scatter = scatter_of(job.rules);
  RatingLikelihood& l = rating.likelihood;
  l.frame = fatigue::frame_likelihood(places, scatter);
  if (job.rules.simulated_samples > 0)
    l.simulated =
        fatigue::simulate(places, scatter, static_cast<std::size_t>(job.rules.simulated_samples), 1);
  l.target_index = target_index(job.rules);
  l.target_probability = chance_of(l.target_index);
  l.places = places.size();
  over_tasks(places.size(), 0, [&](std::size_t i) {
    for (WeldRating& w : rating.welds)
      if (w.id == places[i].id) {
        const fatigue::Likelihood one = fatigue::place_likelihood(places[i], scatter);
        w.crack_probability = one.probability;
        w.sites[most_damaged(w)].evidence.because.push_back(one.evidence);
      }
  });
  // The slope of welded details above their knee, the deviation of the governing curve.
  if (!places.empty()) {
    const fatigue::Place& worst = places[0];
    l.load_factor = fatigue::load_factor_for(l.target_index, 3, worst.curve, worst.below_mean,
                                             std::hypot(scatter.common(), worst.local_model), scatter.miner);
  }
  if (l.places > 0 && l.frame.probability > l.target_probability) rating.verdict = Verdict::falls_short;
}

}  // namespace seamwright::rating
