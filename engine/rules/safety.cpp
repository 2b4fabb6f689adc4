// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rules/safety.h"

#include <cmath>

namespace seamwright::rules {

namespace {

const ByStrategy& by_consequence(const ByConsequence& asked, Consequence consequence) {
  switch (consequence) {
    case Consequence::secondary_part:
      return asked.secondary_part;
    case Consequence::whole_frame:
      return asked.whole_frame;
    case Consequence::people:
      break;
  }
  return asked.people;
}

// A factor that the set knows: as the job gives it, else by consequence and strategy.
double factor_of(const std::optional<ByConsequence>& asked, double given, const Rules& rules) {
  if (!asked) return 1;
  if (given > 0) return given;
  const ByStrategy& row = by_consequence(*asked, rules.consequence);
  return rules.strategy == Strategy::inspected ? row.inspected : row.safe_life;
}

}  // namespace

Safety safety_of(const Rules& rules) {
  Safety s;
  s.load_factor = rules.load_factor > 0
                      ? rules.load_factor
                      : std::exp(2 * std::sqrt(std::log1p(rules.load_scatter * rules.load_scatter)));
  s.partial_factor = factor_of(rules.set->partial_factor, rules.partial_factor, rules);
  s.design_fatigue_factor = factor_of(rules.set->design_fatigue_factor, rules.design_fatigue_factor, rules);
  s.damage_limit = rules.damage_limit > 0 ? rules.damage_limit : rules.set->damage_limit;
  return s;
}

Message partial_factor_assumed(const RuleSet& set, const Safety& safety) {
  return {"assumption.partial-factor", {term_argument("set", "rule-set.", set.name), number("factor", safety.partial_factor, "")}};
}

}  // namespace seamwright::rules
