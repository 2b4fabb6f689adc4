// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rules/misalignment.h"

#include <algorithm>
#include <cmath>

namespace seamwright::rules {

Misalignment misalignment(RuleSet set, double t, double t2, double offset) {
  if (!(t > 0 && t2 > 0 && std::isfinite(t2) && std::isfinite(t) && offset >= 0 && std::isfinite(offset)))
    throw Fault{Message{"joints.bad-offset", {number("offset", offset, "mm"), number("wall", t, "mm")}}};
  if (t2 < t) std::swap(t, t2);
  const double share = std::pow(t, 1.5) / (std::pow(t, 1.5) + std::pow(t2, 1.5));
  constexpr double poisson = 0.3, held_by_class = 1.15;
  Misalignment m;
  Evidence& e = m.evidence;
  switch (set) {
    case RuleSet::en1993:
      m.factor = 1 + 6 * offset / t * share;
      e.source = {"en-1993-1-9", "Table 8.3, row 17"};
      break;
    case RuleSet::iiw:
      m.factor = std::max(1.0, (1 + 6 * offset / (t * (1 - poisson * poisson)) * share) / held_by_class);
      e.source = {"iiw-1823", "misalignment of a tube at a girth weld"};
      break;
    case RuleSet::dnv:
      m.factor = std::max(1.0, 1 + 6 * (offset - 0.1 * t) / t * share);
      e.source = {"dnv-rp-c203-2016", "butt weld in plates with eccentricity"};
      break;
  }
  e.figure = std::string("misalignment");
  e.value = m.factor;
  e.from_memory = true;
  e.inputs = {{"wall", t, "mm"}, {"other_wall", t2, "mm"}, {"offset", offset, "mm"}};
  return m;
}

}  // namespace seamwright::rules
