// SPDX-License-Identifier: GPL-3.0-or-later
// The published tables that a rating calls on: curves, which curve goes with which place, and which stress
// may meet which kind of curve. catalog/published fills them. Plain data.
#pragma once

#include <string>
#include <vector>

#include "engine/fatigue/curve.h"
#include "engine/rules/rule_set.h"

namespace seamwright::rules {

/// A row of catalog/published/details: which curve of a set goes with which failure place of a joint kind.
struct Detail {
  std::string id;
  const RuleSet* set = nullptr;
  std::string place;               ///< site kind ("chord-toe" ...)
  std::vector<std::string> kinds;  ///< joint kinds it holds for
  std::string curve;               ///< id; "" = the set has no row: not covered
  double max_attachment_mm = 0;    ///< upper bound of the attachment length for this row, 0 = none
  double size_exponent = 0, size_reference_mm = 0;  ///< rule for thickness or diameter; 0 = none
  double min_wall_mm = 0;                           ///< smallest wall the source covers, 0 = not stated
  fatigue::StressKind stress = fatigue::StressKind::nominal;
  Source source;
  bool from_memory = false;
};

/// A stress meets a kind of curve of a set in one of these ways.
enum class Pairing { permitted, engineering, refused };
/// A row of catalog/published/pairs: what is not listed is refused.
struct Pair {
  std::string id;
  const RuleSet* set = nullptr;
  std::string
      from;  ///< where the stress comes from: "scf", "extrapolation", "nominal", "throat", "throat-shear"
  fatigue::StressKind stress = fatigue::StressKind::nominal;
  Pairing pairing = Pairing::permitted;
  Source source;
};

struct Published {
  std::string sha256;  ///< of all data files
  std::vector<fatigue::Curve> curves;
  std::vector<Detail> details;
  std::vector<Pair> pairs;
};
/// True when the curve stands under the set's name.
bool is_curve_of(const RuleSet& set, const fatigue::Curve& curve);
/// The set's curve of that name in an environment, or null.
const fatigue::Curve* curve_of(const Published& published, const RuleSet& set, const std::string& id,
                               const std::string& environment);

/// The set's row for a place of a joint kind: of those that hold for an attachment so long, the one with the
/// least bound; null where there is none.
const Detail* detail_of(const Published& published, const RuleSet& set, const std::string& kind,
                        const std::string& place, double attachment_mm);

Pairing pairing_of(const Published& published, const RuleSet& set, const std::string& from,
                   fatigue::StressKind stress);

/// True when the set has a class for a root that is proven to be fused, at a weld of this kind: else proof
/// changes nothing.
bool credits_proof(const Published& published, const RuleSet& set, const std::string& kind);

}  // namespace seamwright::rules
