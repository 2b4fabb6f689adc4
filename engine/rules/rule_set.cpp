// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rules/rule_set.h"

namespace seamwright::rules {

const char* name_of(RuleSet set) {
  switch (set) {
    case RuleSet::dnv:
      return "dnv";
    case RuleSet::en1993:
      return "en1993";
    case RuleSet::iiw:
      return "iiw";
  }
  return "";
}

}  // namespace seamwright::rules
