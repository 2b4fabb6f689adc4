// SPDX-License-Identifier: GPL-3.0-or-later
// Every end of every member must be held by something that is rated, or by something that the design names.
// An end that nothing holds would carry load in the model of the frame and crack nowhere in its rating.
#pragma once

#include "engine/design/design.h"

namespace seamwright::design {

/// A place where a member meets others that nothing joins it to.
struct OpenEnd {
  std::string member, node;
  enum class Part { start, end, through } part = Part::start;
};
/// "start", "end", "through".
const char* name_of(OpenEnd::Part part);

/// The ends that nothing holds. All members that meet at a node are held together by welds (a brace with its
/// chord; of kinds without a chord each end by a weld of its own) or go on as one tube; what is bolted,
/// pinned (takes force along its axis alone) or declared stands apart. An end at which nothing else arrives
/// needs nothing. The rest, in the order of the design's nodes.
std::vector<OpenEnd> open_ends(const Design& design);

}  // namespace seamwright::design
