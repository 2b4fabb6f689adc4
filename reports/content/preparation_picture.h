// SPDX-License-Identifier: GPL-3.0-or-later
// The edge of a brace where its wall and the chord's stand too far apart for a fillet.
#pragma once

#include <optional>

#include "engine/design/design.h"
#include "engine/shape/part.h"
#include "reports/content/picture.h"

namespace seamwright::reports {

/// Enlarged so (ISO 5455 [from memory]).
constexpr int preparation_enlargement = 5;

struct Preparation {
  double widest_deg = 0, share_percent = 0, most_deg = 0;  ///< of the walls; of the root that is wider than most_deg
  Picture picture;  ///< square to the root where the walls stand widest apart; walls drawn flat
};
/// None where the walls of a weld around a round tube stand nowhere at more than a fillet takes (shape::WeldRoom).
std::optional<Preparation> preparation_of(const design::Design& design, const joints::Weld& weld,
                                          const shape::FilletAround& fillet);

}  // namespace seamwright::reports
