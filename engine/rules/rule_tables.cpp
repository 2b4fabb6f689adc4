// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rules/rule_tables.h"

#include <algorithm>

namespace seamwright::rules {

bool is_curve_of(const RuleSet& set, const fatigue::Curve& curve) { return curve.set == set.name; }

const fatigue::Curve* curve_of(const Published& published, const RuleSet& set, const std::string& id,
                               const std::string& environment) {
  for (const fatigue::Curve& c : published.curves)
    if (c.id == id && c.environment == environment && is_curve_of(set, c)) return &c;
  return nullptr;
}

const Detail* detail_of(const Published& published, const RuleSet& set, const std::string& kind,
                        const std::string& place, double attachment_mm) {
  const Detail* best = nullptr;
  for (const Detail& d : published.details) {
    if (d.set != &set || d.place != place) continue;
    if (std::find(d.kinds.begin(), d.kinds.end(), kind) == d.kinds.end()) continue;
    if (d.max_attachment_mm > 0 && attachment_mm > d.max_attachment_mm) continue;
    const auto bound = [](const Detail& x) { return x.max_attachment_mm > 0 ? x.max_attachment_mm : 1e300; };
    if (!best || bound(d) < bound(*best)) best = &d;
  }
  return best;
}

Pairing pairing_of(const Published& published, const RuleSet& set, const std::string& from,
                   fatigue::StressKind stress) {
  for (const Pair& p : published.pairs)
    if (p.set == &set && p.from == from && p.stress == stress) return p.pairing;
  return Pairing::refused;
}

bool credits_proof(const Published& published, const RuleSet& set, const std::string& kind) {
  return std::any_of(published.details.begin(), published.details.end(), [&](const Detail& d) {
    return d.set == &set && d.place == "root-wall" && !d.curve.empty() &&
           std::find(d.kinds.begin(), d.kinds.end(), kind) != d.kinds.end();
  });
}

}  // namespace seamwright::rules
