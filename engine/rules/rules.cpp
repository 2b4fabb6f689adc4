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

}  // namespace seamwright::rules
