// SPDX-License-Identifier: GPL-3.0-or-later
// Slots, holes, sleeves and plates.
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "engine/design/weld_geometry.h"
#include "engine/shape/fibre.h"
#include "engine/shape/pieces.h"
#include "engine/shape/planner.h"

namespace seamwright::shape::planner {

namespace {

using joints::Layout;
using joints::Weld;

// A place on a member this far from its first node, and the stretch there.
struct Place {
  const Stretch* stretch;
  Vec3 at;
};
Place place_along(const frame::Frame& f, const frame::Member& m, const std::vector<Stretch>& stretches,
                  double at_mm) {
  double left = at_mm;
  for (std::size_t i = 1; i < m.nodes.size(); ++i) {
    const Vec3 a = design::position_of(f, m.nodes[i - 1]), b = design::position_of(f, m.nodes[i]);
    const double length = (b - a).norm();
    if (left <= length || i + 1 == m.nodes.size()) {
      const Vec3 at = a + left * (b - a) / length;
      return {&stretch_at(stretches, at), at};
    }
    left -= length;
  }
  return {&stretches.front(), stretches.front().from};
}

}  // namespace

void cut_slots(const design::Design& d, const Axes& axes, Cuts& cuts) {
  for (const Weld& w : d.welds) {
    if (w.layout != Layout::slotted || axes.at(w.member).empty()) continue;
    const Stretch tube = leaving(axes.at(w.member), w.at_start);
    const Vec3 axis = along(tube), normal = (w.plate_normal - w.plate_normal.dot(axis) * axis).normalized();
    const double wide = 4 * outer_radius_mm(tube.section);
    // Local z of the strip, its thickness, is axis x up: along the plate's normal.
    cuts[w.member].push_back({Stretch{frame::PlateStrip{wide, w.plate_mm}, tube.from - axis,
                                      tube.from + w.line_mm * axis, normal.cross(axis)},
                              w.id});
  }
}

void cut_holes(const design::Design& d, const Axes& axes, Cuts& cuts, std::vector<Message>& notes) {
  for (const design::Notch& n : d.notches) {
    if (n.kind != "hole" || axes.at(n.member).empty()) {
      notes.push_back({"shape.notch-not-drawn", {text("notch", n.id)}});
      continue;
    }
    const auto [stretch, at] =
        place_along(d.frame, design::member_of(d.frame, n.member), axes.at(n.member), n.at_mm);
    const Vec3 axis = along(*stretch), out = (n.faces - n.faces.dot(axis) * axis).normalized();
    cuts[n.member].push_back(
        {Stretch{frame::SolidBar{n.hole_mm}, at, at + 2 * outer_radius_mm(stretch->section) * out, axis},
         n.id});
  }
}

Part sleeve_of(const design::Design& d, const Axes& axes, const design::Sleeve& sleeve) {
  const frame::Member& m = design::member_of(d.frame, sleeve.member);
  const auto [stretch, at] = place_along(d.frame, m, axes.at(m.id), sleeve.at_mm);
  const Vec3 axis = along(*stretch), half = sleeve.length_mm / 2 * axis;
  const double outer = sleeve.kind == design::Sleeve::Kind::inner
                           ? bore_radius_mm(stretch->section)
                           : outer_radius_mm(stretch->section) + sleeve.wall_mm;
  Part part{sleeve.id,
            "",
            Hollow{{Stretch{frame::RoundTube{2 * outer, sleeve.wall_mm}, at - half, at + half, stretch->up}}},
            {},
            design::tube_of(d.frame, m).material};
  if (sleeve.kind == design::Sleeve::Kind::split)
    part.cuts.push_back({Stretch{frame::PlateStrip{2 * outer, sleeve.gap_mm}, at - 1.1 * half + outer * stretch->up,
                                 at + 1.1 * half + outer * stretch->up, stretch->up},
                         sleeve.id});
  return part;
}

// A plate that stands on a tube makes room for it; a slotted tube makes room for the plate.
Part plate_of(const design::Design& d, const Axes& axes, const design::Plate& plate) {
  Part part{plate.id, "", Flat{plate}, {}, plate.steel};
  for (const Weld& w : d.welds)
    if (w.layout == Layout::plate_on_tube &&
        std::find(plate.welds.begin(), plate.welds.end(), w.id) != plate.welds.end())
      for (const Stretch& s : axes.at(w.chord)) part.cuts.push_back({s, w.chord});
  return part;
}

}  // namespace seamwright::shape::planner
