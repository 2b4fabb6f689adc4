// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/evidence/evidence.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace seamwright {

Argument number(std::string name, double value, std::string unit) {
  return {std::move(name), value, std::move(unit)};
}

Argument text(std::string name, std::string value) { return {std::move(name), std::move(value), ""}; }
Argument word(std::string name, std::string sentence_id) {
  return {std::move(name), std::move(sentence_id), "word"};
}

Coverage worse(Coverage a, Coverage b) { return std::max(a, b); }

const char* name_of(Coverage coverage) {
  switch (coverage) {
    case Coverage::inside:
      return "inside";
    case Coverage::extended:
      return "extended";
    case Coverage::none:
      return "none";
  }
  return "none";
}

Limit limit(std::string name, double value, std::string unit, double min, double max) {
  const double slack = 1e-9 * std::max(1.0, std::abs(value));
  const bool inside = value >= min - slack && value <= max + slack;
  return {std::move(name), value, std::move(unit), min, max, inside};
}

bool all_inside(const std::vector<Limit>& limits) {
  return std::all_of(limits.begin(), limits.end(), [](const Limit& l) { return l.inside; });
}

}  // namespace seamwright
