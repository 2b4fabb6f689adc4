// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/rate.h"

namespace seamwright::rating {

std::size_t subject_count(const Design& d) { return d.welds.size() + d.notches.size() + d.bolts.size(); }

Subject subject_of(const Design& d, std::size_t number) {
  if (number < d.welds.size()) {
    const joints::Weld& w = d.welds[number];
    return {w.id, w.joint, w.kind, w.node, w.member, w.chord};
  }
  number -= d.welds.size();
  if (number < d.notches.size()) {
    const Notch& n = d.notches[number];
    return {n.id, "", n.kind, "", n.member, ""};
  }
  const BoltCircle& b = d.bolts.at(number - d.notches.size());
  return {b.id, "", "bolts", "", b.member, ""};
}

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

const char* name_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::meets:
      return "meets";
    case Verdict::not_covered:
      return "not_covered";
    case Verdict::falls_short:
      return "falls_short";
  }
  return "falls_short";
}

}  // namespace seamwright::rating
