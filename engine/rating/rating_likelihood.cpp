// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/rating_likelihood.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <memory>
#include <optional>

#include "engine/machine/parallel.h"

namespace seamwright::rating {

namespace {

constexpr std::array<double, 9> multipliers{0.2, 0.35, 0.5, 0.7, 1, 1.4, 2, 3, 5};
constexpr std::size_t as_it_is = 4;
static_assert(multipliers[as_it_is] == 1);

// The most damaged site of a weld on each curve: which of them is likeliest to crack hangs on the curve's
// scatter and on that of the local stress too.
std::vector<std::size_t> most_damaged(const WeldRating& weld) {
  std::map<std::string, std::size_t> most;
  for (std::size_t k = 0; k < weld.sites.size(); ++k) {
    const SiteRating& s = weld.sites[k];
    if (s.curve.empty() || !(s.damage_unfactored > 0) || std::isinf(s.damage_unfactored)) continue;
    const auto [at, fresh] = most.emplace(s.curve, k);
    if (!fresh && s.damage_unfactored > weld.sites[at->second].damage_unfactored) at->second = k;
  }
  std::vector<std::size_t> sites;
  for (const auto& [curve, k] : most) sites.push_back(k);
  return sites;
}

double chance_of(double index) { return 0.5 * std::erfc(index / std::sqrt(2.0)); }

}  // namespace

double target_index(const rules::Rules& rules) {
  return rules.target_reliability > 0 ? rules.target_reliability : 3.8;
}

fatigue::Scatter scatter_of(const rules::Rules& rules) {
  return {fatigue::log_deviation(rules.load_scatter), fatigue::log_deviation(0.10),
          fatigue::log_deviation(0.3)};
}

namespace {

std::optional<fatigue::Place> place_of(const Job& job, const Service& service, std::size_t index,
                                       const SiteRating& rated) {
  const sites::Site& site = service.sites[index];
  fatigue::Place p;
  const double log_n =
      site.curve->scatter_log_n > 0 ? site.curve->scatter_log_n : job.rules.set->scatter_log_n;
  p.curve = log_n * std::log(10.0);
  p.below_mean = job.rules.set->below_mean;
  if (site.kind.part == sites::JointPart::toe && site.curve->stress == fatigue::StressKind::hot_spot)
    p.local_model = fatigue::log_deviation(0.20);
  // A model's root too, until tests of such joints show less; the mesh's own error is added.
  if (site.mesh_error > 0) p.local_model = fatigue::log_deviation(std::hypot(0.20, site.mesh_error));
  const std::vector<double> damages = damages_per_year(service, job.range_model, index, multipliers);
  const double at_one = damages[as_it_is];
  if (!(at_one > 0)) return std::nullopt;
  for (std::size_t k = 0; k < multipliers.size(); ++k) {
    p.ln_stress.push_back(std::log(multipliers[k]));
    p.ln_damage.push_back(std::log(damages[k] / at_one * rated.damage_unfactored));
  }
  return p;
}

// A fused root may be open after all: its place as an open one, where the weld has one, and the share of such roots.
void add_open_root(const Job& job, const Service& service, const WeldRating& weld, fatigue::Place& place) {
  const auto open = std::find_if(weld.checks.begin(), weld.checks.end(), [](const SiteRating& s) { return sites::place::open_root == s.kind; });
  if (open == weld.checks.end()) return;
  for (std::size_t i = 0; i < service.sites.size(); ++i) {
    const sites::Site& site = service.sites[i];
    if (!site.aside || site.weld >= job.design.welds.size() || job.design.welds[site.weld].id != weld.id || name_of(site) != open->site) continue;
    if (std::optional<fatigue::Place> other = place_of(job, service, i, *open)) {
      place.instead_share = fatigue::faulty_share(job.design.welds[site.weld].root_macros);
      place.instead = std::make_shared<const fatigue::Place>(std::move(*other));
    }
    return;
  }
}

// The most damaged sites of a weld, the likeliest of them; nothing where it has no damage.
std::optional<LikeliestPlace> likeliest_of(const Job& job, const Service& service, const Verdicts& verdicts,
                                           std::size_t weld, const fatigue::Scatter& scatter) {
  std::optional<LikeliestPlace> found;
  for (const std::size_t k : most_damaged(verdicts.welds[weld])) {
    std::optional<fatigue::Place> place =
        place_of(job, service, verdicts.places[weld][k], verdicts.welds[weld].sites[k]);
    if (!place) continue;
    place->id = verdicts.welds[weld].id;
    add_open_root(job, service, verdicts.welds[weld], *place);
    fatigue::Likelihood one = fatigue::place_likelihood(*place, scatter);
    if (!found || one.probability > found->likelihood.probability)
      found = LikeliestPlace{std::move(*place), weld, k, std::move(one)};
  }
  return found;
}

RatingLikelihood frame_of(const Job& job, const std::vector<LikeliestPlace>& likeliest,
                          const Verdicts& verdicts) {
  const fatigue::Scatter scatter = scatter_of(job.rules);
  std::vector<fatigue::Place> places;
  for (const LikeliestPlace& one : likeliest) places.push_back(one.place);
  RatingLikelihood l;
  l.frame = fatigue::frame_likelihood(places, scatter);
  if (job.rules.simulated_samples > 0)
    l.simulated =
        fatigue::simulate(places, scatter, static_cast<std::size_t>(job.rules.simulated_samples), 1);
  l.target_index = target_index(job.rules);
  l.target_probability = chance_of(l.target_index);
  l.places = places.size();
  // The slope of welded details above their knee, the deviation of the governing curve.
  if (!places.empty()) {
    const fatigue::Place& worst = places[0];
    l.load_factor = fatigue::load_factor_for(l.target_index, 3, worst.curve, worst.below_mean,
                                             std::hypot(scatter.common(), worst.local_model), scatter.miner);
  }
  for (const WeldRating& w : verdicts.welds) {
    if (w.at_most) ++l.uncovered;
    if (w.rejected) l.frame = {1, std::numeric_limits<double>::quiet_NaN(), 1, 1};  // a flaw like a crack
  }
  return l;
}

}  // namespace

Chances chances_of(const Job& job, const Service& service, const Verdicts& verdicts) {
  const fatigue::Scatter scatter = scatter_of(job.rules);
  std::vector<std::optional<LikeliestPlace>> found(verdicts.welds.size());
  machine::over_tasks(found.size(), 0,
                      [&](std::size_t w) { found[w] = likeliest_of(job, service, verdicts, w, scatter); });
  Chances chances;
  for (auto& one : found)
    if (one) chances.likeliest.push_back(std::move(*one));
  chances.frame = frame_of(job, chances.likeliest, verdicts);
  return chances;
}

}  // namespace seamwright::rating
