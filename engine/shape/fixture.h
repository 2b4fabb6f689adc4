// SPDX-License-Identifier: GPL-3.0-or-later
// A frame is set up and checked on a flat table by these measures: each weldment by itself, as it lies there.
#pragma once

#include <string>
#include <vector>

#include "engine/design/design.h"
#include "engine/shape/part.h"

namespace seamwright::shape {

/// Places: x forward, y left as in the design; z is the height over the table, mm.
struct FixturePlace {
  std::string name;  ///< node; of a tube's end its member
  std::string node;
  Vec3 at_mm{0, 0, 0};
};

/// Two lengths that are each other's mirror image.
struct Diagonal {
  std::string from, to, other_from, other_to;  ///< nodes
  double length_mm = 0, other_mm = 0;
};

/// An axis that bearings run on, by its two ends.
struct TrueAxis {
  enum class Kind { steering, front_hub, rear_hub, crank } kind = Kind::steering;
  std::string member;
  Vec3 from_mm{0, 0, 0}, to_mm{0, 0, 0};
};

/// Members that welds hold together, apart from others by hinges and links.
struct Weldment {
  std::vector<std::string> members;
  double table_mm = 0;  ///< height of the table in the design's axes: below the lowest tube's wall
  std::vector<FixturePlace> nodes, ends;
  std::vector<Diagonal> diagonals;
  std::vector<TrueAxis> axes;
};

/// The weldments of a frame, in the order of their first members; links (axial_only) belong to none.
/// - nodes: all that members run through;
/// - ends: of tubes that are sawn square or mitred, the end of the axis;
/// - diagonals: between the ends of every member that has a twin on the other side, across to the twin's;
/// - axes: the member through the steering hinge, through each wheel's hub and through the pedals' node that
///   lies nearest to the axis that turns there, between its ends.
std::vector<Weldment> weldments_of(const design::Design& design, const Plan& plan);

}  // namespace seamwright::shape
