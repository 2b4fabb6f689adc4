// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/throat_needs.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "engine/rating/memory.h"

namespace seamwright::study {

namespace {

constexpr std::array<double, 9> throat_steps{0.5, 0.6, 0.75, 1, 1.25, 1.5, 1.9, 2.4, 3};

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
        if (!known || s.damage > known->damage) known = &s;
      }
    }
  return worst;
}

// The proportion at which the damage falls to the limit.
double proportion(const std::array<double, throat_steps.size()>& damage, double limit) {
  for (std::size_t i = 0; i + 1 < throat_steps.size(); ++i) {
    if (damage[i] <= limit || damage[i + 1] > limit) continue;
    if (!(damage[i + 1] > 0)) return throat_steps[i + 1];
    const double share = std::log(damage[i] / limit) / std::log(damage[i] / damage[i + 1]);
    return throat_steps[i] * std::pow(throat_steps[i + 1] / throat_steps[i], share);
  }
  return damage[0] <= limit ? throat_steps[0] : std::numeric_limits<double>::infinity();
}

}  // namespace

std::vector<ThroatNeed> throats_needed(const rating::Job& job, const rules::Published& published,
                                       const rating::Progress& progress) {
  std::map<std::string, std::array<double, throat_steps.size()>> damage;
  std::map<std::string, ThroatNeed> needs;
  double limit = 1;
  rating::Memory memory;
  for (std::size_t i = 0; i < throat_steps.size(); ++i) {
    if (progress.stop.stop_requested()) throw rating::RatingStopped{};
    rating::Job changed = job;
    for (joints::Weld& w : changed.design.welds) w.throat_mm *= throat_steps[i];
    const rating::BriefRating rated =
        rating::rate_briefly(changed, published, rating::Method::spectral, rating::Chance::left_out, memory);
    limit = rated.damage_limit;
    for (const auto& [id, site] : worst_roots(rated.welds, job.design)) {
      damage[id][i] = site->damage;
      if (throat_steps[i] == 1) needs[id] = {id, site->site, 0, site->damage, 0, false, site->at_least};
    }
    if (progress.report)
      progress.report(static_cast<double>(i + 1) / static_cast<double>(throat_steps.size()));
  }
  std::vector<ThroatNeed> all;
  for (auto& [id, need] : needs) {
    for (const joints::Weld& w : job.design.welds)
      if (w.id == id) need.throat_mm = w.throat_mm;
    need.needed_mm = need.throat_mm * proportion(damage[id], limit);
    need.at_most = damage[id][0] <= limit;
    all.push_back(need);
  }
  std::stable_sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.damage > b.damage; });
  return all;
}

}  // namespace seamwright::study
