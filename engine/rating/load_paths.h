// SPDX-License-Identifier: GPL-3.0-or-later
// The frame may still carry its rider when a weld has cracked through: each weld in turn loses the piece of tube beside
// it, and the rest is held to yield under what riding may bring.
#pragma once

#include "engine/rating/job.h"

namespace seamwright::rating {

/// The worst that happens when one of the pieces of brace or chord that meet at the weld carries nothing.
struct LoadPath {
  bool known = false;      ///< false: a weld of no tube, or no yield strength is stated
  bool mechanism = false;  ///< something is left that nothing holds
  double use = 0;          ///< largest nominal equivalent stress over yield (of the softened zone beside welds)
  std::string load_case{}, element{};
  /// So much of the brace's girth may be cracked through while the rest stays below yield, up to half; 0: none, or no round tube.
  double cracked_share = 0;
  bool other() const { return known && !mechanism && use <= 1; }
};

/// All that load paths follow from.
struct RiddenFrame {
  frame::Frame cut;
  loads::Carriers carriers;
  loads::Rider rider;
  loads::Steering steering;
  loads::Peaks peaks;
  double payload_kg = 0;                                          ///< the duty's heaviest
  double payload_ahead_mm = 0, payload_left_mm = 0;               ///< of that
  std::vector<std::pair<std::string, std::vector<std::string>>> welds;  ///< node; brace and chord
  bool operator==(const RiddenFrame&) const = default;
};
RiddenFrame ridden_frame(const Job& job);

/// Each weld has its path, in the design's order. Cases: standing, both front wheels at a kerb, full braking, the corner in
/// which a wheel lifts, somebody on the box's edge, empty and with the duty's heaviest payload. Rigid nodes, linear;
/// strength of the other welds and buckling are not in it, nor how long the rest lasts. Throws what peak_cases()
/// throws.
std::vector<LoadPath> load_paths(const RiddenFrame& ridden);

}  // namespace seamwright::rating
