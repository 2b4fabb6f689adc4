// SPDX-License-Identifier: GPL-3.0-or-later
// Sites of plates: a tube slotted over one, and one that stands along a tube.
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "engine/joints/hot_spot.h"
#include "engine/joints/weld_group.h"
#include "engine/sites/site_maker.h"

namespace seamwright::sites {

namespace {

using frame::Vec3;
using joints::WeldLine;

// Throat at one end of a line: forces per length in three directions over the throat.
void push_line_end(SiteMaker& maker, const SiteMaker::Place& place, const std::vector<WeldLine>& lines,
                   const Vec3& at, const Vec3& along, const Vec3& away, const Load& load) {
  const double throat = maker.design.welds[place.weld].throat_mm;
  const auto map = joints::line_force_map(lines, at);
  const auto part = [&](const Vec3& direction) {
    return Row(form_of(load, map.transpose() * direction) * (1 / throat));
  };
  push_root(maker, place, part(away), part(along.cross(away)), part(along),
            throat_evidence(maker, throat, place.thickness_mm));
}

// Load that the plate puts on the chord, about the chord's node: what the chord's section forces jump by,
// less what other members bring there.
Load load_from_plate(const SiteMaker& maker, const joints::Weld& weld) {
  const auto [before, after] = sides_of(maker, weld);
  Load load = load_through(before.element ? before : after, maker.size);
  if (before.element && after.element)
    load = sum_of(load, -1, load_through(after, maker.size));
  else if (!before.element)
    load = sum_of(load, -2, load);
  const Vec3 node = design::position_of(maker.frame, weld.node);
  for (const frame::Member& m : maker.frame.members)
    for (const bool start : {true, false}) {
      if (m.id == weld.chord || m.id == weld.member ||
          (start ? m.nodes.front() : m.nodes.back()) != weld.node)
        continue;
      const Station s = station(maker.assembly, m, start ? 0 : m.nodes.size() - 2, start);
      const Vec3 arm = design::end_position(maker.frame, m, start) - node;
      load = sum_of(load, start ? -1 : 1, moment_row(load_through(s, maker.size), arm));
    }
  return load;
}

void add_standing_plate(SiteMaker& maker, std::size_t index) {
  const joints::Weld& weld = maker.design.welds[index];
  const frame::RoundTube* tube = maker.index.round_tube(weld.chord);
  if (!tube) return maker.push_not_covered(index, "rating.no-round-tube");
  const auto [before, after] = sides_of(maker, weld);
  const Vec3 along = design::chord_direction(maker.frame, weld);
  const Vec3 out = (weld.stands - along * along.dot(weld.stands)).normalized();
  const double radius = 0.5 * tube->diameter_mm, length = weld.line_mm;
  Evidence wall = nominal_evidence();
  wall.inputs = {{"attachment_length", length, "mm"}};
  const Station &first = before.element ? before : after, &last = after.element ? after : before;
  maker.push({index, place::chord_wall, 0, tube->wall_mm, length}, nominal(first, out, radius, maker.size),
             wall);
  maker.push({index, place::chord_wall, 180, tube->wall_mm, length}, nominal(last, out, radius, maker.size),
             wall);
  if (!weld.carries_load) {
    maker.sites.back().evidence.notes.push_back({"rating.plate-bears-nothing", {}});
    return;
  }
  maker.push({index, place::chord_toe, 0, tube->wall_mm}, maker.no_row(), Evidence{})
      .evidence.notes.push_back({"rating.needs-hot-spot", {}});
  // A line on each side of the plate, on the tube's surface; at 45 degrees the end on the chord's start side.
  const Vec3 side = out.cross(-along), foot = design::position_of(maker.frame, weld.node) + radius * out;
  std::vector<WeldLine> lines;
  for (const double s : {1.0, -1.0}) {
    const Vec3 middle = foot + 0.5 * s * weld.plate_mm * side;
    lines.push_back({middle - 0.5 * length * along, middle + 0.5 * length * along});
  }
  const Load load =
      moment_row(load_from_plate(maker, weld), design::position_of(maker.frame, weld.node) - foot);
  for (std::size_t k = 0; k < 2; ++k) {
    push_line_end(maker, {index, place::root, k == 0 ? 45.0 : 315.0, weld.plate_mm}, lines, lines[k].from_mm,
                  along, out, load);
    push_line_end(maker, {index, place::root, k == 0 ? 135.0 : 225.0, weld.plate_mm}, lines, lines[k].to_mm,
                  along, out, load);
  }
}

// Nominal stress in the tube at the slots' ends, of the section less both slots. The slots are taken off the
// second moment about both axes as if they lay at its outer fibre, which is on the safe side.
Row slot_end(const SiteMaker& maker, const Station& s, const frame::RoundTube& tube, double slot_mm,
             const Vec3& out) {
  const frame::SectionProperties& p = s.element->section;
  const double lost = 2 * tube.wall_mm * slot_mm, radius = 0.5 * tube.diameter_mm;
  const double area = p.area_mm2 / (p.area_mm2 - lost),
               bending = p.i_z_mm4 / (p.i_z_mm4 - lost * radius * radius);
  const Row n = axial(s, maker.size);
  return Row(area * n + bending * (nominal(s, out, radius, maker.size) - n));
}

void add_slotted(SiteMaker& maker, std::size_t index) {
  const joints::Weld& weld = maker.design.welds[index];
  const frame::RoundTube* tube = maker.index.round_tube(weld.member);
  if (!tube) return maker.push_not_covered(index, "rating.no-round-tube");
  const frame::Member& member = maker.index.member_of(weld.member);
  const Station end =
      station(maker.assembly, member, weld.at_start ? 0 : member.nodes.size() - 2, weld.at_start);
  const Vec3 along = maker.index.seat_of(weld).brace;
  const Vec3 across = (weld.plate_normal - along * along.dot(weld.plate_normal)).normalized();
  const Vec3 edge = along.cross(across);
  for (const double angle : {0.0, 180.0})
    maker.push({index, place::brace_toe, angle, tube->wall_mm},
               slot_end(maker, end, *tube, weld.plate_mm, angle == 0 ? edge : Vec3(-edge)),
               nominal_evidence());
  const Vec3 start = design::end_position(maker.frame, member, weld.at_start);
  std::vector<WeldLine> lines;
  for (const double e : {1.0, -1.0})
    for (const double s : {1.0, -1.0}) {
      const Vec3 from = start + 0.5 * e * tube->diameter_mm * edge + 0.5 * s * weld.plate_mm * across;
      lines.push_back({from, from + weld.line_mm * along});
    }
  const Load load = moment_row(load_through(end, maker.size), start - joints::centroid_of(lines));
  for (std::size_t k = 0; k < 4; ++k) {
    const double angle = std::array{5.0, 355.0, 175.0, 185.0}[k];
    push_line_end(maker, {index, place::root, angle, tube->wall_mm}, lines, lines[k].from_mm, along,
                  k < 2 ? edge : Vec3(-edge), load);
  }
}

}  // namespace

void add_plate_sites(SiteMaker& maker, std::size_t weld) {
  if (maker.design.welds[weld].layout == joints::Layout::slotted) return add_slotted(maker, weld);
  add_standing_plate(maker, weld);
}

}  // namespace seamwright::sites
