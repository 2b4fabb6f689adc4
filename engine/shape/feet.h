// SPDX-License-Identifier: GPL-3.0-or-later
// A brace's foot must stand on its chord as every published factor presumes: its axis through the chord's, no
// wider than the chord, and clear of the feet beside it. This is judged from geometry alone.
#pragma once

#include <string>
#include <vector>

#include "engine/frame/frame.h"
#include "engine/joints/weld.h"

namespace seamwright::shape {

/// A weld's foot that no published factor takes, or that it takes outside its range.
struct Foot {
  std::string weld;
  Message finding;       ///< "shape.foot-..." with members and mm
  bool possible = true;  ///< false: no weld can go all around it as drawn
};

/// Findings on every weld of a round brace on a round chord, in the welds' order:
/// "shape.foot-wider": the brace is wider than the chord: beside the chord there is no wall to weld to;
/// "shape.foot-aside": the brace's axis passes the chord's: no factor knows how far;
/// "shape.foot-in-brace": where its axis leaves the chord's wall it lies within another brace of that chord;
/// "shape.feet-touch" (possible): it lies in another brace beyond the chord's wall, but stands on the chord.
std::vector<Foot> feet(const frame::Frame& frame, const std::vector<joints::Weld>& welds);

}  // namespace seamwright::shape
