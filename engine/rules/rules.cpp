// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rules/rules.h"

namespace seamwright::rules {

const char* name_of(Consequence consequence) {
  switch (consequence) {
    case Consequence::secondary_part:
      return "secondary-part";
    case Consequence::whole_frame:
      return "whole-frame";
    case Consequence::people:
      return "people";
  }
  return "";
}

const char* name_of(Strategy strategy) {
  switch (strategy) {
    case Strategy::safe_life:
      return "safe-life";
    case Strategy::inspected:
      return "inspected";
  }
  return "";
}

const char* name_of(Environment environment) {
  switch (environment) {
    case Environment::air:
      return "air";
    case Environment::free_corrosion:
      return "free-corrosion";
  }
  return "";
}

void change_set(Rules& rules, const RuleSet& set) {
  if (rules.set == &set) return;
  rules.set = &set;
  rules.design_fatigue_factor = rules.partial_factor = rules.damage_limit = 0;
  rules.damage_limit_by.clear();
}

}  // namespace seamwright::rules
