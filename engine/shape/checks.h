// SPDX-License-Identifier: GPL-3.0-or-later
// Faults of the welds of a frame as drawn, by closed forms alone.
#pragma once

#include <vector>

#include "engine/design/design.h"

namespace seamwright::shape {

/// Limits of a weld that can be made. Angles between axes and between walls: EN 1993-1-8, 7.1.2 and 4.3.2.1
/// [from memory]. Gas cup and stick-out of the electrode: common practice, without source.
struct WeldRoom {
  double least_angle_deg = 30;
  double least_dihedral_deg = 60, most_dihedral_deg = 120;
  double cup_mm = 12, stick_out_mm = 15;
};

/// A weld that has no room is wrong; one that asks for care can be made with the preparation that is named.
struct WeldFinding {
  Message message;
  bool preparation = false;
};

/// Weld by weld in the order of the design:
/// "shape.end-in-air": the brace passes its chord;
/// "shape.beside-chord": so much of its foot passes the chord by its side;
/// "shape.beyond-end": its foot stands beyond the chord's end;
/// "shape.narrow-angle": its axis leans too far for the inner corner to be welded;
/// "shape.narrow-dihedral", "shape.wide-dihedral" (preparation): over a share of its length the walls stand at an angle for
/// which a fillet is none;
/// "shape.tangent-walls": over a length they run into each other (within five degrees);
/// "shape.no-access-heel", "shape.no-access" (preparation): a gas cup between two walls stops too far above the root;
/// "shape.feet-close": two feet stand closer than the larger throat, without lying in each other.
std::vector<WeldFinding> weld_findings(const design::Design& design, const WeldRoom& room = {});

}  // namespace seamwright::shape
