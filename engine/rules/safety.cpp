// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rules/safety.h"

#include <algorithm>
#include <cmath>

namespace seamwright::rules {

namespace {

// What a set asks for by consequence, inspected and as a safe life.
struct Asked {
  double inspected, safe_life;
};

Asked eurocode(Consequence consequence) {
  switch (consequence) {
    case Consequence::secondary_part:
      return {1.0, 1.15};
    case Consequence::whole_frame:
    case Consequence::people:
      return {1.15, 1.35};
  }
  return {};
}

Asked institute(Consequence consequence) {
  switch (consequence) {
    case Consequence::secondary_part:
      return {1.0, 1.15};
    case Consequence::whole_frame:
      return {1.15, 1.30};
    case Consequence::people:
      return {1.30, 1.40};
  }
  return {};
}

Asked veritas(Consequence consequence) {
  switch (consequence) {
    case Consequence::secondary_part:
      return {1, 2};
    case Consequence::whole_frame:
      return {2, 3};
    case Consequence::people:
      return {3, 10};
  }
  return {};
}

double by_strategy(const Asked& asked, Strategy strategy) {
  switch (strategy) {
    case Strategy::inspected:
      return asked.inspected;
    case Strategy::safe_life:
      return asked.safe_life;
  }
  return 0;
}

double given_or(double given, const Asked& asked, Strategy strategy) {
  return given > 0 ? given : by_strategy(asked, strategy);
}

}  // namespace

Safety safety_of(const Rules& rules) {
  Safety s;
  s.load_factor = rules.load_factor > 0
                      ? rules.load_factor
                      : std::exp(2 * std::sqrt(std::log1p(rules.load_scatter * rules.load_scatter)));
  switch (rules.set) {
    case RuleSet::dnv:
      s.design_fatigue_factor =
          given_or(rules.design_fatigue_factor, veritas(rules.consequence), rules.strategy);
      break;
    case RuleSet::en1993:
      s.partial_factor = given_or(rules.partial_factor, eurocode(rules.consequence), rules.strategy);
      break;
    case RuleSet::iiw:
      s.partial_factor = given_or(rules.partial_factor, institute(rules.consequence), rules.strategy);
      s.damage_limit = 0.2;
      break;
  }
  if (rules.damage_limit > 0) s.damage_limit = rules.damage_limit;
  return s;
}

Pairing pairing_of(const Published& published, RuleSet set, const std::string& from,
                   fatigue::StressKind stress) {
  for (const Pair& p : published.pairs)
    if (p.set == set && p.from == from && p.stress == stress) return p.pairing;
  return Pairing::refused;
}

bool credits_proof(const Published& published, RuleSet set, const std::string& kind) {
  return std::any_of(published.details.begin(), published.details.end(), [&](const Detail& d) {
    return d.set == set && d.place == "root-wall" && !d.curve.empty() &&
           std::find(d.kinds.begin(), d.kinds.end(), kind) != d.kinds.end();
  });
}

}  // namespace seamwright::rules
