// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/reliability.h"

#include <cmath>

namespace seamwright::rating {

const char* name_of(LimitStateKind kind) {
  switch (kind) {
    case LimitStateKind::any_crack:
      return "any-crack";
    case LimitStateKind::single_path:
      return "single-path";
    case LimitStateKind::fall:
      break;
  }
  return "fall";
}

const char* name_of(ScatterSource source) {
  switch (source) {
    case ScatterSource::loads:
      return "loads";
    case ScatterSource::frame_model:
      return "frame-model";
    case ScatterSource::joint_model:
      return "joint-model";
    case ScatterSource::miner:
      return "miner";
    case ScatterSource::use:
      return "use";
    case ScatterSource::curve:
      break;
  }
  return "curve";
}

const char* name_of(Origin origin) {
  switch (origin) {
    case Origin::measured:
      return "measured";
    case Origin::published:
      return "published";
    case Origin::assumed:
      break;
  }
  return "assumed";
}

double chance_beyond(double index) { return 0.5 * std::erfc(index / std::sqrt(2.0)); }

fatigue::Scatter scatter_of(const rules::Rules& rules) {
  const double loads = fatigue::log_deviation(rules.load_scatter);
  fatigue::Scatter s;
  s.loads = loads * std::sqrt(1 - rules.use_share);
  s.use = loads * std::sqrt(rules.use_share);
  s.frame_model = fatigue::log_deviation(0.10);
  s.miner = rules.miner_scatter * std::log(10.0);
  s.miner_median = rules.miner_median;
  return s;
}

double curve_deviation(const rules::Rules& rules, const fatigue::Curve& curve) {
  return (curve.scatter_log_n > 0 ? curve.scatter_log_n : rules.set->scatter_log_n) * std::log(10.0);
}

double Budget::life_factor(double index) const { return std::exp(index * deviation); }

Budget budget_of(const fatigue::Place& place, const fatigue::Scatter& s) {
  Budget b;
  b.weld = place.id;
  const double slope = (fatigue::ln_damage_at(place, 0.05) - fatigue::ln_damage_at(place, -0.05)) / 0.1;
  b.slope = std::isfinite(slope) ? slope : 0;
  const Source jcss{"jcss-pmc", "part 3, fatigue"}, ours{};
  b.rows = {{ScatterSource::loads, true, s.loads, true, 0, 0, Origin::assumed, ours},
            {ScatterSource::frame_model, true, s.frame_model, true, 0, 0, Origin::published, jcss, true},
            {ScatterSource::joint_model, true, place.local_model, true, 0, 0, Origin::published, jcss, true},
            {ScatterSource::miner, true, s.miner, false, 0, 0, Origin::published, {"iiw-1823", "4.3.1"}, true},
            {ScatterSource::use, false, s.use, true, 0, 0, Origin::assumed, ours},
            {ScatterSource::curve, false, place.curve, false, 0, 0,
             place.curve_source.key.empty() ? Origin::assumed : Origin::published, place.curve_source, place.curve_from_memory}};
  double variance = 0;
  for (BudgetRow& row : b.rows) {
    row.of_life = row.of_stress ? b.slope * row.deviation : row.deviation;
    variance += row.of_life * row.of_life;
  }
  b.deviation = std::sqrt(variance);
  for (BudgetRow& row : b.rows) row.share = variance > 0 ? row.of_life * row.of_life / variance : 0;
  return b;
}

}  // namespace seamwright::rating
