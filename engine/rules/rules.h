// SPDX-License-Identifier: GPL-3.0-or-later
// A rating is held to its rules: the set of rules, how bad a crack would be, how the frame is looked after,
// and where it stands. Plain data; every word of a file becomes one of these where it is read, or is refused
// there.
#pragma once

#include <string>

#include "engine/fatigue/growth.h"
#include "engine/rules/rule_sets.h"

namespace seamwright::rules {

enum class Consequence { secondary_part, whole_frame, people };
inline constexpr std::array consequences{Consequence::secondary_part, Consequence::whole_frame,
                                         Consequence::people};
/// "secondary-part", "whole-frame", "people".
const char* name_of(Consequence consequence);

enum class Strategy { safe_life, inspected };
inline constexpr std::array strategies{Strategy::safe_life, Strategy::inspected};
/// "safe-life", "inspected".
const char* name_of(Strategy strategy);

enum class Environment { air, free_corrosion };
inline constexpr std::array environments{Environment::air, Environment::free_corrosion};
/// "air", "free-corrosion": as curves name them.
const char* name_of(Environment environment);

/// The default is the worst: people in the box, nobody looks.
struct Rules {
  const RuleSet* set = &dnv;
  Consequence consequence = Consequence::people;
  Strategy strategy = Strategy::safe_life;
  double design_fatigue_factor = 0;  ///< on damage, 1..10; 0 = from the set
  double partial_factor = 0;         ///< on stress; 0 = from the set
  double damage_limit = 0;           ///< of the damage with factors; 0 = from the set
  std::string damage_limit_by;       ///< who decided on another limit than the set's
  double load_bias = 1;              ///< mean loads over the model's, on every stress: from readings or returns
  double load_scatter = 0.20;        ///< coefficient of variation of loads
  double use_share = 0.5;            ///< of the variance of loads: differs from frame to frame; the rest all frames of a design share
  double miner_median = 0.5;         ///< of the Miner sum at failure under variable amplitudes
  double miner_scatter = 0.25;       ///< its standard deviation of log10
  bool bracket_joints = false;       ///< rate joints rigid and giving way, and take the worse at every site
  double simulated_samples = 0;      ///< of the frame's likelihood, beside quadrature; 0 = none
  double target_crack = 1.5;         ///< index: any crack in the frame within the service
  double target_single_path = 2.3;   ///< index: a crack in a weld whose loss nothing else carries
  double target_reliability = 0;     ///< index: a fall because of a crack; 0 = the standard's
  double look_every_km = 0;          ///< somebody looks for cracks; 0 = not stated
  const fatigue::Detection* look_by = &fatigue::by_eye;
  double load_factor = 0;            ///< on stress ranges; 0 = from the scatter
  bool mean_stress_credit = false;   ///< for compression, where the set allows it
  Environment environment_outside = Environment::air, environment_inside = Environment::air;
  double chord_fixity = 0.7;  ///< C of Efthymiou's general fixity
};

/// Somebody looks for cracks, and how often is stated.
inline bool looks(const Rules& rules) { return rules.strategy == Strategy::inspected && rules.look_every_km > 0; }

/// Puts another set in place, which takes its own factors and limit: none that were asked of the one before
/// are carried over.
void change_set(Rules& rules, const RuleSet& set);

}  // namespace seamwright::rules
