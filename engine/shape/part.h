// SPDX-License-Identifier: GPL-3.0-or-later
// The frame's parts as they are sawn, cut and welded: plain data, all numbers in it, so that each part stands
// alone. What a tube is cut by is a solid of its own, taken away in the order of the list.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "engine/design/plate.h"
#include "engine/frame/section.h"
#include "engine/frame/vector.h"

namespace seamwright::shape {

using frame::Vec3;

/// A section pushed along a straight line, mm. `up` is local y of the section, square to the line.
struct Stretch {
  frame::Section section;
  Vec3 from, to, up;
  bool operator==(const Stretch&) const = default;
};

/// All that lies on the side of `away` from a point.
struct HalfSpace {
  Vec3 point, away;  ///< unit vector
  bool operator==(const HalfSpace&) const = default;
};

/// A tool takes this away: a stretch counts as filled out to its outer contour.
struct Cut {
  std::variant<Stretch, HalfSpace> tool;
  std::string by;  ///< the member, plate or notch that it makes room for
  bool operator==(const Cut&) const = default;
};

/// A tube, bar, shell or sleeve: straight stretches end to end (a bend is a mitre: the drawing has no radius).
struct Hollow {
  std::vector<Stretch> stretches;
  bool operator==(const Hollow&) const = default;
};

/// A flat plate: its outline in the plane, half its thickness to either side.
struct Flat {
  design::Plate plate;
  bool operator==(const Flat&) const = default;
};

struct Part {
  std::string id;
  std::string member;  ///< the design's member; "" for plates and sleeves
  std::variant<Hollow, Flat> body;
  std::vector<Cut> cuts;
  std::string steel;
  bool operator==(const Part&) const = default;
};

/// A fillet around the end of a round tube on a round one.
struct FilletAround {
  Stretch brace, chord;  ///< the brace leaves the chord from `from`
  Vec3 crown;            ///< direction of the crown, square to the brace
  double leg_crown_mm = 0, leg_saddle_mm = 0;
  double leg_opposite_mm = 0;  ///< at the crown on the other side of the brace; 0: as at the crown
  bool operator==(const FilletAround&) const = default;
};

/// A fillet around the end of a round tube on a face square to it: a flange, or the mouth of a socket. The tube leaves the
/// face from `from`; both legs are equal.
struct FilletRing {
  Stretch tube;
  double leg_mm = 0;
};

/// A fillet along a straight corner: legs along `one` and `other`, square to the line.
struct FilletAlong {
  Vec3 from, to, one, other;  ///< unit vectors
  double leg_mm = 0;
};

struct WeldBody {
  std::string id;
  std::variant<FilletAround, FilletRing, std::vector<FilletAlong>> body;
  std::vector<Cut> cuts;
};

/// A frame ready to be built: parts, weld bodies, and what the drawing leaves open ("shape.…" notes).
struct Plan {
  std::vector<Part> parts;
  std::vector<WeldBody> welds;
  std::vector<Message> notes;
};

}  // namespace seamwright::shape
