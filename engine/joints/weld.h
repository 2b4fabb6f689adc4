// SPDX-License-Identifier: GPL-3.0-or-later
// Joints and welds as the design states them: plain data.
#pragma once

#include <string>
#include <vector>

namespace seamwright::joints {

/// One member end welded at a node. Its id comes from the design.
struct Weld {
  std::string id;
  std::string member;    ///< the brace
  bool at_start = true;  ///< which end of the member
  std::string node;
  std::string joint;                ///< id of the joint it belongs to
  std::string kind;                 ///< joint kind of catalog/published/joint_kinds.toml, e.g. "tube-tee"
  std::string chord;                ///< member welded onto; "" where the kind has none
  double throat_mm = 0;             ///< of the fillet
  bool root_proven = false;         ///< penetration proven by a macro section of the qualified procedure
  std::string root_proof;           ///< id of that record, "" = none
  std::string procedure;            ///< id, "" = none
  double attachment_length_mm = 0;  ///< along the chord, over the toes; 0 = from geometry
  /// Shares of the brace's axial force that a brace opposite (x) and a brace on the same side (k, the partner
  /// weld, at a gap between the toes) balance; the rest goes into the chord.
  double x_share = 0, k_share = 0, gap_mm = 0;
  std::string partner{};
};

}  // namespace seamwright::joints
