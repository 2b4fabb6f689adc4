// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/safety.h"

#include <cmath>

namespace seamwright::rating {

namespace {

bool safe_life(const Rules& rules) { return rules.strategy != "inspected"; }

double eurocode_factor(const Rules& rules) {
  const bool low = rules.consequence == "secondary-part";
  return safe_life(rules) ? (low ? 1.15 : 1.35) : (low ? 1.0 : 1.15);
}

double iiw_factor(const Rules& rules) {
  if (rules.consequence == "people") return safe_life(rules) ? 1.40 : 1.30;
  if (rules.consequence == "whole-frame") return safe_life(rules) ? 1.30 : 1.15;
  return safe_life(rules) ? 1.15 : 1.0;
}

double dnv_factor(const Rules& rules) {
  if (rules.consequence == "people") return safe_life(rules) ? 10 : 3;
  if (rules.consequence == "whole-frame") return safe_life(rules) ? 3 : 2;
  return safe_life(rules) ? 2 : 1;
}

}  // namespace

Safety safety_of(const Rules& rules) {
  Safety s;
  s.load_factor = rules.load_factor > 0
                      ? rules.load_factor
                      : std::exp(2 * std::sqrt(std::log1p(rules.load_scatter * rules.load_scatter)));
  if (rules.set == "dnv")
    s.design_fatigue_factor =
        rules.design_fatigue_factor > 0 ? rules.design_fatigue_factor : dnv_factor(rules);
  else
    s.partial_factor = rules.partial_factor > 0 ? rules.partial_factor
                       : rules.set == "en1993"  ? eurocode_factor(rules)
                                                : iiw_factor(rules);
  if (rules.set == "iiw") s.damage_limit = 0.2;
  if (rules.damage_limit > 0) s.damage_limit = rules.damage_limit;
  return s;
}

Pairing pairing_of(const Published& published, const std::string& set, const std::string& from,
                   fatigue::StressKind stress) {
  for (const Pair& p : published.pairs)
    if (p.set == set && p.from == from && p.stress == stress) return p.pairing;
  return Pairing::refused;
}

}  // namespace seamwright::rating
