// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/rating_likelihood.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>
#include <memory>
#include <numeric>
#include <optional>

#include "engine/machine/parallel.h"
#include "engine/rating/looks.h"

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

}  // namespace

double local_deviation(const sites::Site& site) {
  // A model's root too, until tests of such joints show less.
  if (site.mesh_error > 0) return fatigue::log_deviation(std::hypot(0.20, site.mesh_error));
  const bool toe = site.kind.part == sites::JointPart::toe && site.curve->stress == fatigue::StressKind::hot_spot;
  return toe ? fatigue::log_deviation(0.20) : 0;
}

double target_index(const rules::Rules& rules) {
  return rules.target_reliability > 0 ? rules.target_reliability : 3.8;
}

namespace {

std::optional<fatigue::Place> place_of(const Job& job, const Service& service, std::size_t index,
                                       const SiteRating& rated) {
  const sites::Site& site = service.sites[index];
  fatigue::Place p;
  p.curve = curve_deviation(job.rules, *site.curve);
  if (site.curve->scatter_log_n > 0) p.curve_source = site.curve->source;
  p.curve_from_memory = site.curve->from_memory;
  p.below_mean = job.rules.set->below_mean;
  p.local_model = local_deviation(site);
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

// A weld's most damaged place on each of its curves, with its likelihood.
std::vector<LikeliestPlace> places_of(const Job& job, const Service& service, const Verdicts& verdicts, std::size_t weld,
                                      const fatigue::Scatter& scatter) {
  std::vector<LikeliestPlace> places;
  for (const std::size_t k : most_damaged(verdicts.welds[weld])) {
    std::optional<fatigue::Place> place =
        place_of(job, service, verdicts.places[weld][k], verdicts.welds[weld].sites[k]);
    if (!place) continue;
    place->id = verdicts.welds[weld].id;
    add_open_root(job, service, verdicts.welds[weld], *place);
    fatigue::Likelihood one = fatigue::place_likelihood(*place, scatter);
    places.push_back({std::move(*place), weld, k, std::move(one)});
  }
  return places;
}

// Damage at which this place's chance is its target's: along one slope, from where it stands.
double allowed_damage(const LikeliestPlace& place, const SiteRating& site, double target, const fatigue::Scatter& scatter) {
  const double deviation = budget_of(place.place, scatter).deviation;
  const double index = std::isfinite(place.likelihood.index)
                           ? place.likelihood.index
                           : fatigue::closed_form(std::log(site.damage_unfactored), budget_of(place.place, scatter).slope, place.place, scatter).index;
  return site.damage_unfactored * std::exp((index - target) * deviation);
}

// Damage that no target could be held against never counts as good.
void judge_site(SiteRating& site) {
  if (site.curve.empty() || std::isinf(site.damage_unfactored)) return;
  if (site.damage_unfactored == 0 && std::isnan(site.allowed_damage)) site.allowed_damage = std::numeric_limits<double>::infinity();
  if (std::isnan(site.allowed_damage) || std::isnan(site.damage_unfactored)) site.at_least = true;
  site.verdict = site.damage_unfactored > site.allowed_damage ? Verdict::falls_short
                 : site.at_least                              ? Verdict::not_covered
                                                              : Verdict::meets;
}

// The weld as one place, named by the one that lives shortest, which comes first among its sites; nothing where none
// has damage.
std::optional<LikeliestPlace> judge_weld(Verdicts& verdicts, std::size_t w, double target, const fatigue::Scatter& scatter,
                                         std::vector<LikeliestPlace> places) {
  WeldRating& weld = verdicts.welds[w];
  std::optional<LikeliestPlace> worst;
  const auto lives = [&](const LikeliestPlace& p) { return weld.sites[p.site].life_km_predicted; };
  std::stable_sort(places.begin(), places.end(), [&](const auto& a, const auto& b) { return lives(a) < lives(b); });
  for (LikeliestPlace& one : places) {
    const double allowed = allowed_damage(one, weld.sites[one.site], target, scatter);
    for (SiteRating& site : weld.sites)
      if (site.curve == weld.sites[one.site].curve) site.allowed_damage = allowed;
    if (worst)
      worst->place.beside.push_back(std::move(one.place));
    else
      worst = std::move(one);
  }
  weld.verdict = Verdict::meets;
  for (SiteRating& site : weld.sites) {
    judge_site(site);
    weld.verdict = std::max(weld.verdict, site.verdict);
    weld.at_most = weld.at_most || (site.at_least && !weld.rejected);
  }
  if (worst) {
    if (!worst->place.beside.empty()) worst->likelihood = fatigue::place_likelihood(worst->place, scatter);
    if (worst->likelihood.index < target) weld.verdict = Verdict::falls_short;
    const auto k = static_cast<std::ptrdiff_t>(worst->site);
    std::rotate(weld.sites.begin(), weld.sites.begin() + k, weld.sites.begin() + k + 1);
    std::rotate(verdicts.places[w].begin(), verdicts.places[w].begin() + k, verdicts.places[w].begin() + k + 1);
    worst->site = 0;
  }
  weld.governing_site = weld.sites[0].site;
  return worst;
}

LimitState limit_state(LimitStateKind kind, double probability, double index, double target_index) {
  return {kind, probability, index, target_index, chance_beyond(target_index)};
}

const LoadPath* path_of(const std::vector<LoadPath>& paths, const Job& job, const std::string& id) {
  for (std::size_t w = 0; w < paths.size(); ++w)
    if (job.design.welds[w].id == id) return &paths[w];
  return nullptr;
}

// A weld that something else carries for. Notches and bolts are never one.
bool has_other_path(const std::vector<LoadPath>& paths, const Job& job, const std::string& id) {
  const LoadPath* path = path_of(paths, job, id);
  return path && path->other();
}

// A crack from here goes around the brace. In the chord's wall no published solution follows it.
bool goes_around_brace(const SiteRating& s) {
  return sites::place::root == s.kind || sites::place::root_wall == s.kind || sites::place::brace_toe == s.kind;
}

// The most damaged place of a weld from which a crack does not go around the brace.
std::optional<fatigue::Place> unseen_place(const Job& job, const Service& service, const Verdicts& verdicts, std::size_t weld) {
  const std::vector<SiteRating>& sites = verdicts.welds[weld].sites;
  const SiteRating* most = nullptr;
  for (const SiteRating& s : sites)
    if (!s.curve.empty() && s.damage_unfactored > 0 && !goes_around_brace(s) && (!most || s.damage_unfactored > most->damage_unfactored)) most = &s;
  if (!most) return std::nullopt;
  std::optional<fatigue::Place> place = place_of(job, service, verdicts.places[weld][static_cast<std::size_t>(most - sites.data())], *most);
  if (place) place->id = verdicts.welds[weld].id + " apart";
  return place;
}

// A root that may be open after all cracks as nobody computed: growth was followed from a fused one. Its share counts in full.
void set_open_roots_apart(fatigue::Place& place, std::vector<fatigue::Place>& falls) {
  for (fatigue::Place& other : place.beside) set_open_roots_apart(other, falls);
  if (!place.instead) return;
  falls.push_back(*place.instead);
  falls.back().counted_share = place.instead_share;
  place.instead.reset();
}

// A rider falls by cracks of single load paths. Those around a brace that somebody looks for in time count by what is
// missed, all others in full.
std::vector<fatigue::Place> falls_of(const Job& job, const Service& service, const Chances& chances, const Verdicts& verdicts) {
  std::vector<fatigue::Place> falls;
  for (const LikeliestPlace& one : chances.likeliest) {
    const LoadPath* path = path_of(chances.paths, job, one.place.id);
    if (path && path->other()) continue;
    fatigue::Place place = one.place;
    const double missed = missed_share(job.rules, chances.growths[one.weld]);
    if (missed < 1) set_open_roots_apart(place, falls);
    place.counted_share = missed;
    falls.push_back(std::move(place));
    if (missed == 1) continue;
    if (std::optional<fatigue::Place> unseen = unseen_place(job, service, verdicts, one.weld)) falls.push_back(std::move(*unseen));
  }
  return falls;
}

// A crack in a weld that something else carries for is no fall in a frame that is inspected; without inspection the
// rest fails in its turn, unseen.
std::vector<LimitState> limit_states_of(const Job& job, const Service& service, const Chances& chances, const Verdicts& verdicts) {
  const rules::Rules& rules = job.rules;
  const fatigue::FrameLikelihood& any = chances.frame.frame;
  if (chances.likeliest.empty()) return {};
  LimitState single = limit_state(LimitStateKind::single_path, 0, std::numeric_limits<double>::infinity(), rules.target_single_path);
  for (const LikeliestPlace& one : chances.likeliest) {
    if (has_other_path(chances.paths, job, one.place.id) || one.likelihood.probability <= single.probability) continue;
    single.probability = one.likelihood.probability;
    single.index = one.likelihood.index;
    single.weld = one.place.id;
  }
  const bool inspected = rules.strategy == rules::Strategy::inspected && any.probability < 1;
  const fatigue::FrameLikelihood fall = inspected ? fatigue::frame_likelihood(falls_of(job, service, chances, verdicts), scatter_of(rules)) : any;
  return {limit_state(LimitStateKind::any_crack, any.probability, any.index, rules.target_crack), std::move(single),
          limit_state(LimitStateKind::fall, fall.probability, fall.index, target_index(rules))};
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
  l.target_probability = chance_beyond(l.target_index);
  l.places = places.size();
  if (!places.empty()) l.budget = budget_of(places[0], scatter);
  for (const WeldRating& w : verdicts.welds) {
    if (w.at_most) ++l.uncovered;
    if (w.rejected) l.frame = {1, -std::numeric_limits<double>::infinity(), 1, 1};  // a flaw like a crack
  }
  return l;
}

}  // namespace

namespace {

// Worst first: by verdict; among equals what was rejected, what has no number, then the likeliest to crack.
void sort_welds(Verdicts& verdicts, std::vector<std::optional<LikeliestPlace>>& found) {
  const auto index = [&](std::size_t w) {
    constexpr double infinity = std::numeric_limits<double>::infinity();
    if (verdicts.welds[w].rejected || !found[w]) return -infinity;
    return found[w]->likelihood.index;
  };
  std::vector<std::size_t> order(found.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    const Verdict va = verdicts.welds[a].verdict, vb = verdicts.welds[b].verdict;
    return va != vb ? va > vb : index(a) < index(b);
  });
  Verdicts sorted;
  std::vector<std::optional<LikeliestPlace>> places;
  for (const std::size_t w : order) {
    sorted.welds.push_back(std::move(verdicts.welds[w]));
    sorted.places.push_back(std::move(verdicts.places[w]));
    places.push_back(std::move(found[w]));
    if (places.back()) places.back()->weld = places.size() - 1;
  }
  verdicts = std::move(sorted);
  found = std::move(places);
}

}  // namespace

Chances chances_of(const Job& job, const Service& service, Verdicts& verdicts, Memory& memory) {
  const fatigue::Scatter scatter = scatter_of(job.rules);
  Chances chances;
  chances.paths = *memory.paths(ridden_frame(job));
  std::vector<std::optional<LikeliestPlace>> found(verdicts.welds.size());
  machine::over_tasks(found.size(), 0, [&](std::size_t w) {
    const bool other = has_other_path(chances.paths, job, verdicts.welds[w].id);
    found[w] = judge_weld(verdicts, w, other ? job.rules.target_crack : job.rules.target_single_path, scatter,
                          places_of(job, service, verdicts, w, scatter));
  });
  sort_welds(verdicts, found);
  for (auto& one : found)
    if (one) chances.likeliest.push_back(std::move(*one));
  chances.frame = frame_of(job, chances.likeliest, verdicts);
  for (const WeldRating& weld : verdicts.welds) {
    const LoadPath* path = path_of(chances.paths, job, weld.id);
    chances.growths.push_back(path ? growth_of(job, weld, *path) : CrackGrowth{});
  }
  chances.frame.limit_states = limit_states_of(job, service, chances, verdicts);
  return chances;
}

fatigue::FramePrediction prediction_of(const Job& job, const Chances& chances) {
  std::vector<fatigue::Place> places;
  for (const LikeliestPlace& one : chances.likeliest) places.push_back(one.place);
  return fatigue::predict(places, scatter_of(job.rules));
}

}  // namespace seamwright::rating
