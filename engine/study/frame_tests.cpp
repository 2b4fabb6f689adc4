// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/frame_tests.h"

#include <algorithm>
#include <cmath>

#include "engine/measured/rig_rating.h"
#include "engine/rating/rate.h"

namespace seamwright::study {

namespace {

constexpr double load_factors[] = {0.7, 0.85, 1, 1.2, 1.4};

double deviation_of(const rating::Budget& budget, rating::ScatterSource source) {
  for (const rating::BudgetRow& row : budget.rows)
    if (row.source == source) return row.of_life;
  return 0;
}

// The damage at the weld that governs, of that where the case damages most.
double share_there(const measured::RigResult& r) {
  return r.not_applicable.empty() && std::isfinite(r.equal_cycles) && r.damage > 0 ? r.rig_damage_there / r.damage : 0;
}

}  // namespace

std::optional<RigTest> rig_test(const rating::Rating& rating, const std::vector<measured::RigResult>& rigs, double cycles) {
  using rating::ScatterSource;
  const auto best = std::max_element(rigs.begin(), rigs.end(), [](const auto& a, const auto& b) { return share_there(a) < share_there(b); });
  const rating::Budget& budget = rating.likelihood.budget;
  if (best == rigs.end() || !(share_there(*best) > 0) || !(budget.slope > 0) || budget.weld != best->service_weld) return {};
  RigTest t;
  t.rig_case = best->id;
  t.weld = best->service_weld;
  t.site = best->service_site;
  const double curve = deviation_of(budget, ScatterSource::curve);
  t.cycles_as_is = std::exp(rating.rules.set->below_mean * curve) * best->cycles / best->rig_damage_there;
  t.force_factor = std::pow(t.cycles_as_is / cycles, 1 / budget.slope);
  t.cycles = cycles;
  t.one = interval_80(cycles, std::hypot(deviation_of(budget, ScatterSource::frame_model), deviation_of(budget, ScatterSource::joint_model), curve));
  t.run_out = run_out_times * cycles;
  t.equal_cycles = best->equal_cycles;
  t.first_weld = best->weld;
  t.first_site = best->site;
  t.other_first = best->weld != best->service_weld;
  t.first_share = share_there(*best);
  return t;
}

std::optional<RideTest> ride_test(const rating::Job& job, const rating::Rating& rating) {
  const rating::LoadQuestion& q = rating.loads;
  const rating::Budget& budget = rating.likelihood.budget;
  if (q.weld.empty() || q.largest.leg.empty() || !(budget.slope > 0)) return {};
  RideTest t;
  t.weld = q.weld;
  t.member = rating.welds[0].member;
  t.leg = q.largest.leg;
  t.source = q.largest.source;
  for (const loads::Leg* leg : loads::all_legs(job.duty))
    if (leg->id == t.leg) {
      t.road = leg->road;
      t.payload_kg = leg->pose.payload_kg;
      t.speed_kmh = leg->speed_kmh;
      t.distance_km = leg->distance_km;
    }
  t.largest_share = q.largest_share;
  t.unmeasured = q.unmeasured;
  t.life_low = q.life_low;
  t.life_high = q.life_high;
  const fatigue::Scatter scatter = rating::scatter_of(job.rules);
  t.expected = interval_80(1, scatter.loads);
  const double left = std::hypot(budget.slope * scatter.frame_model, deviation_of(budget, rating::ScatterSource::joint_model), scatter.miner);
  for (const double factor : load_factors) {
    const double life = rating.welds[0].predicted.life.median * std::pow(factor, -budget.slope);
    t.outcomes.push_back({factor, life, interval_80(life, left)});
  }
  return t;
}

}  // namespace seamwright::study
