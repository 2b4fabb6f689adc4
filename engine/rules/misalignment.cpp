// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rules/misalignment.h"

#include <algorithm>
#include <cmath>

namespace seamwright::rules {

Misalignment misalignment(const RuleSet& set, double t, double t2, double offset) {
  if (!(t > 0 && t2 > 0 && std::isfinite(t2) && std::isfinite(t) && offset >= 0 && std::isfinite(offset)))
    throw Fault{Message{"joints.bad-offset", {number("offset", offset, "mm"), number("wall", t, "mm")}}};
  if (t2 < t) std::swap(t, t2);
  const double share = std::pow(t, 1.5) / (std::pow(t, 1.5) + std::pow(t2, 1.5));
  Misalignment m;
  m.factor = std::max(1.0, set.misalignment.factor({t, offset, share}));
  Evidence& e = m.evidence;
  e.source = set.misalignment.clause.source();
  e.figure = std::string("misalignment");
  e.value = m.factor;
  e.from_memory = true;
  e.inputs = {{"wall", t, "mm"}, {"other_wall", t2, "mm"}, {"offset", offset, "mm"}};
  return m;
}

}  // namespace seamwright::rules
