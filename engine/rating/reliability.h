// SPDX-License-Identifier: GPL-3.0-or-later
// Limit states over the service, and the budget: each source of scatter once, with its share and the factor on life
// that a target asks for. Values of EN 1990, Table C2, for fatigue: 1.5 to 3.8, by inspection and consequence [from
// memory].
#pragma once

#include "engine/fatigue/curve.h"
#include "engine/fatigue/likelihood.h"
#include "engine/rules/rules.h"

namespace seamwright::rating {

enum class LimitStateKind { any_crack, single_path, fall };
/// "any-crack", "single-path", "fall".
const char* name_of(LimitStateKind kind);

struct LimitState {
  LimitStateKind kind = LimitStateKind::any_crack;
  double probability = 0, index = 0;  ///< in the service
  double target_index = 0, target_probability = 0;
  std::string weld{};  ///< single_path: the likeliest
  bool met() const { return probability <= target_probability; }
};

enum class ScatterSource { loads, frame_model, joint_model, miner, use, curve };
/// "loads", "frame-model", "joint-model", "miner", "use", "curve".
const char* name_of(ScatterSource source);
enum class Origin { measured, published, assumed };
/// "measured", "published", "assumed".
const char* name_of(Origin origin);

struct BudgetRow {
  ScatterSource source = ScatterSource::loads;
  bool shared = false;    ///< by all frames of the design
  double deviation = 0;   ///< standard deviation of the natural logarithm, of stress or of life
  bool of_stress = false;
  double of_life = 0;     ///< the same on life: times the slope for what acts on stress
  double share = 0;       ///< of the variance of ln life
  Origin origin = Origin::assumed;
  Source from{};
  bool from_memory = false;  ///< the value was recalled, not read again
};
struct Budget {
  std::string weld{};  ///< it is that of this place
  double slope = 0;    ///< d ln damage / d ln stress of its service
  double deviation = 0;  ///< of ln life, all rows together
  std::vector<BudgetRow> rows;
  /// Predicted over required life: exp(index * deviation).
  double life_factor(double index) const;
};

/// Chance beyond an index, and back.
double chance_beyond(double index);

/// The scatter of a job. Miner sum from the rules (median 0.5, 0.25 of log10: IIW's limit and published sums of welded
/// steel [from memory]); loads and use are assumed until rides are measured; frame model 0.10 by JCSS.
fatigue::Scatter scatter_of(const rules::Rules& rules);

/// Standard deviation of ln N: the curve's own, else the set's.
double curve_deviation(const rules::Rules& rules, const fatigue::Curve& curve);

Budget budget_of(const fatigue::Place& place, const fatigue::Scatter& scatter);

}  // namespace seamwright::rating
