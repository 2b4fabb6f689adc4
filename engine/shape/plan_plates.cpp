// SPDX-License-Identifier: GPL-3.0-or-later
// Slots, holes, seats, shoulders, sleeves and plates.
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <optional>

#include "engine/design/weld_geometry.h"
#include "engine/frame/check.h"
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

Place place_of(const design::Design& d, const Axes& axes, const design::Notch& n) {
  return place_along(d.frame, design::member_of(d.frame, n.member), axes.at(n.member), n.at_mm);
}

// From a place to the nearer end of its stretch, and a millimetre on.
Stretch to_nearer_end(const Place& place, const frame::Section& section, const Vec3& up) {
  const Stretch& s = *place.stretch;
  const bool back = (place.at - s.from).norm() < (place.at - s.to).norm();
  return {section, place.at, back ? Vec3(s.from - along(s)) : Vec3(s.to + along(s)), up};
}

// A notch is made by taking this away; none where the design has no measures for it.
std::optional<Stretch> notch_tool(const design::Notch& n, const Place& place, const std::vector<Stretch>& all) {
  const Stretch& s = *place.stretch;
  const bool at_an_end = &s == &all.front() || &s == &all.back();
  const double outer = outer_radius_mm(s.section);
  const Vec3 axis = along(s), out = (n.faces - n.faces.dot(axis) * axis).normalized();
  if (n.kind == "hole") return Stretch{frame::SolidBar{n.hole_mm}, place.at, place.at + 2 * outer * out, axis};
  if (n.kind == "seat" && n.bore_mm > 0 && at_an_end)
    return to_nearer_end(place, frame::SolidBar{n.bore_mm}, s.up);
  if (n.kind != "clamp-slot" || !(n.slot_mm > 0) || !at_an_end) return {};
  Stretch slot = to_nearer_end(place, frame::PlateStrip{2 * outer, n.slot_mm}, out);  // through one wall
  slot.from += outer * out;
  slot.to += outer * out;
  return slot;
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

void cut_notches(const design::Design& d, const Axes& axes, Cuts& cuts, std::vector<Message>& notes) {
  for (const design::Notch& n : d.notches) {
    const std::vector<Stretch>& all = axes.at(n.member);
    if (!all.empty()) {
      if (const std::optional<Stretch> tool = notch_tool(n, place_of(d, axes, n), all)) {
        cuts[n.member].push_back({*tool, n.id});
        continue;
      }
      if (collar_of(d, axes, n)) continue;
    }
    notes.push_back({"shape.notch-not-drawn", {text("notch", n.id)}});
  }
}

std::optional<Part> collar_of(const design::Design& d, const Axes& axes, const design::Notch& n) {
  const std::vector<Stretch>& all = axes.at(n.member);
  if (n.large_end.empty() || all.empty()) return {};
  const Stretch& last = n.large_end == "start" ? all.front() : all.back();
  const Place place = place_of(d, axes, n);
  const auto* bar = std::get_if<frame::SolidBar>(&last.section);
  if (place.stretch != &last || !bar || std::abs(bar->diameter_mm - n.shoulder.small_mm) > 0.01) return {};
  const Vec3 end = n.large_end == "start" ? last.from : last.to;
  if ((place.at - end).norm() < frame::same_place_mm) return {};
  const frame::RoundTube ring{n.shoulder.large_mm, (n.shoulder.large_mm - n.shoulder.small_mm) / 2};
  return Part{n.id, "", Hollow{{Stretch{ring, place.at, end, last.up}}}, {}, design::tube_of(d.frame, design::member_of(d.frame, n.member)).material};
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
