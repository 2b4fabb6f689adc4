// SPDX-License-Identifier: GPL-3.0-or-later
// The weld metal: its place and size.
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/design/weld_geometry.h"
#include "engine/shape/cylinder.h"
#include "engine/shape/fibre.h"
#include "engine/shape/pieces.h"
#include "engine/shape/planner.h"

namespace seamwright::shape::planner {

namespace {

using joints::Layout;
using joints::Weld;

// The other braces of the chord that reach into the fillet.
std::vector<Cut> neighbours(const Feet& feet, const Weld& w, const FilletAround& fillet) {
  std::vector<Cut> cuts;
  const double grown = outer_radius_mm(fillet.brace.section) + std::max({fillet.leg_crown_mm, fillet.leg_saddle_mm, fillet.leg_opposite_mm});
  const Cylinder around{fillet.brace.from, fillet.brace.to, grown};
  for (const Standing& other : feet.at(w.chord)) {
    const Stretch& brace = other.fillet.brace;
    if (other.weld->member != w.member &&
        overlap_mm(around, {brace.from, brace.to, outer_radius_mm(brace.section)}) > 0)
      cuts.push_back({brace, other.weld->member});
  }
  return cuts;
}

// Four lines along a tube slotted over a plate: in the corners between its outer wall and the plate's faces.
std::vector<FilletAlong> beside_slot(const Stretch& tube, const Weld& w) {
  const Vec3 axis = along(tube), normal = (w.plate_normal - w.plate_normal.dot(axis) * axis).normalized(),
             side = normal.cross(axis);
  const double radius = outer_radius_mm(tube.section), half = w.plate_mm / 2;
  const double reach = std::sqrt(std::max(0.0, radius * radius - half * half));
  std::vector<FilletAlong> lines;
  for (const double a : {-1.0, 1.0})
    for (const double b : {-1.0, 1.0}) {
      const Vec3 from = tube.from + a * reach * side + b * half * normal;
      lines.push_back({from, from + w.line_mm * axis, a * side, b * normal, w.throat_mm * std::numbers::sqrt2});
    }
  return lines;
}

// Two lines along a plate that stands on a tube.
std::vector<FilletAlong> beside_plate(const Stretch& tube, const Vec3& node, const Weld& w) {
  const Vec3 axis = along(tube), stands = (w.stands - w.stands.dot(axis) * axis).normalized(),
             side = axis.cross(stands);
  const double radius = outer_radius_mm(tube.section), half = w.plate_mm / 2;
  const Vec3 top = node + std::sqrt(std::max(0.0, radius * radius - half * half)) * stands;
  std::vector<FilletAlong> lines;
  for (const double a : {-1.0, 1.0})
    lines.push_back({top + a * half * side - w.line_mm / 2 * axis, top + a * half * side + w.line_mm / 2 * axis,
                     stands, a * side, w.throat_mm * std::numbers::sqrt2});
  return lines;
}

}  // namespace

std::optional<WeldBody> weld_body(const design::Design& d, const Axes& axes, const Feet& feet, const Weld& w) {
  if (const auto fillet = fillet_of(d, axes, w)) return WeldBody{w.id, *fillet, neighbours(feet, w, *fillet)};
  if ((w.kind == "tube-flange" || w.kind == "tube-socket") && !axes.at(w.member).empty())
    if (const Stretch tube = leaving(axes.at(w.member), w.at_start); std::holds_alternative<frame::RoundTube>(tube.section))
      return WeldBody{w.id, FilletRing{tube, w.throat_mm * std::numbers::sqrt2}, {}};
  if (w.layout == Layout::slotted && !axes.at(w.member).empty())
    return WeldBody{w.id, beside_slot(leaving(axes.at(w.member), w.at_start), w), {}};
  if (w.layout == Layout::plate_on_tube && !w.chord.empty() && !axes.at(w.chord).empty()) {
    const Vec3 node = design::position_of(d.frame, w.node);
    return WeldBody{w.id, beside_plate(stretch_at(axes.at(w.chord), node), node, w), {}};
  }
  return {};
}

}  // namespace seamwright::shape::planner
