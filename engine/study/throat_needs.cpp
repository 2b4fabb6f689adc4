// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/throat_needs.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "engine/rating/memory.h"
#include "engine/shape/fillet.h"
#include "engine/shape/plan.h"

namespace seamwright::study {

namespace {

constexpr std::array<double, 9> throat_steps{0.5, 0.6, 0.75, 1, 1.25, 1.5, 1.9, 2.4, 3};
constexpr std::size_t as_it_is = 3;  ///< of the steps

// Worst root of each weld that is rated by its throat.
std::map<std::string, const rating::SiteRating*> worst_roots(const std::vector<rating::WeldRating>& welds,
                                                             const design::Design& design) {
  std::map<std::string, const rating::SiteRating*> worst;
  for (const joints::Weld& weld : design.welds)
    for (const rating::WeldRating& w : welds) {
      if (w.id != weld.id) continue;
      for (const rating::SiteRating& s : w.sites) {
        if ((s.kind != "root" && s.kind != "root-shear") || s.curve.empty()) continue;
        const rating::SiteRating*& known = worst[w.id];
        if (!known || s.used() > known->used()) known = &s;
      }
    }
  return worst;
}

// From the throat as it is up to the first step that meets, or down to the last one.
double proportion(const std::array<double, throat_steps.size()>& used) {
  const std::size_t now = as_it_is;
  const bool meets = used[now] <= 1;
  std::size_t i = now;  // the step below the crossing
  if (meets)
    while (i > 0 && used[i - 1] <= 1) --i;
  else
    while (i + 1 < throat_steps.size() && used[i + 1] > 1) ++i;
  if (meets && i == 0) return throat_steps[0];
  if (!meets && i + 1 == throat_steps.size()) return std::numeric_limits<double>::infinity();
  if (meets) --i;
  if (!(used[i + 1] > 0)) return throat_steps[i + 1];
  const double share = std::log(used[i]) / std::log(used[i] / used[i + 1]);
  return throat_steps[i] * std::pow(throat_steps[i + 1] / throat_steps[i], share);
}

// Legs of each fillet around a brace, as drawn or by the default rule.
std::map<std::string, shape::Legs> legs_of(const design::Design& design) {
  std::map<std::string, shape::Legs> legs;
  for (const shape::WeldBody& w : shape::plan_of(design).welds)
    if (const auto* f = std::get_if<shape::FilletAround>(&w.body)) legs[w.id] = {std::max(f->leg_crown_mm, f->leg_opposite_mm), f->leg_saddle_mm};
  return legs;
}

}  // namespace

std::vector<ThroatNeed> throats_needed(const rating::Job& job, const rules::Published& published,
                                       const rating::Progress& progress) {
  std::map<std::string, std::array<double, throat_steps.size()>> used;
  std::map<std::string, ThroatNeed> needs;
  rating::Memory memory;
  for (std::size_t i = 0; i < throat_steps.size(); ++i) {
    if (progress.stop.stop_requested()) throw rating::RatingStopped{};
    rating::Job changed = job;
    for (joints::Weld& w : changed.design.welds)
      for (double* size : {&w.throat_mm, &w.leg_crown_mm, &w.leg_saddle_mm}) *size *= throat_steps[i];
    const rating::BriefRating rated =
        rating::rate_briefly(changed, published, rating::Method::spectral, memory);
    for (const auto& [id, site] : worst_roots(rated.welds, job.design)) {
      used[id][i] = site->used();
      if (i == as_it_is) needs[id] = {id, site->site, 0, site->used(), 0, false, site->at_least};
    }
    if (progress.report)
      progress.report(static_cast<double>(i + 1) / static_cast<double>(throat_steps.size()));
  }
  const std::map<std::string, shape::Legs> legs = legs_of(job.design);
  std::vector<ThroatNeed> all;
  for (auto& [id, need] : needs) {
    for (const joints::Weld& w : job.design.welds)
      if (w.id == id) need.throat_mm = w.throat_mm;
    const double larger = proportion(used[id]);
    need.needed_mm = need.throat_mm * larger;
    if (const auto found = legs.find(id); found != legs.end()) {
      need.leg_crown_mm = found->second.crown_mm * larger;
      need.leg_saddle_mm = found->second.saddle_mm * larger;
    }
    need.at_most = used[id][0] <= 1;
    all.push_back(need);
  }
  std::stable_sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.used > b.used; });
  return all;
}

}  // namespace seamwright::study
