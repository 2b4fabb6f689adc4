// SPDX-License-Identifier: GPL-3.0-or-later
// Members as they come off the saw: which ends they have, how they are turned, how long they are.
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "engine/design/weld_geometry.h"
#include "engine/evidence/constants.h"
#include "engine/shape/cope.h"
#include "engine/shape/cylinder.h"
#include "engine/shape/fibre.h"
#include "engine/shape/pieces.h"

namespace seamwright::shape {

namespace {

constexpr double right_angle_deg = 0.05, on_axis_mm = 0.01;

bool is_round_stretch(const Cut& cut) { return std::holds_alternative<Stretch>(cut.tool); }

// The stretch of the chord that the end stands on: the one whose axis runs nearest.
const Stretch* stretch_below(const TubeEnd& e, const Vec3& node) {
  const Stretch* nearest_one = nullptr;
  double least = 1e9;
  for (const Cut& cut : e.cuts) {
    const auto* s = std::get_if<Stretch>(&cut.tool);
    if (!s || cut.by != e.onto) continue;
    const double off = nearest(node, node, s->from, s->to).distance_mm;
    if (off >= least) continue;
    least = off;
    nearest_one = s;
  }
  return nearest_one;
}

void set_crown(TubeEnd& e, const Vec3& towards) {
  const Vec3 square = towards - towards.dot(e.out) * e.out;
  if (!(square.norm() > 1e-6)) return;
  e.crown_rad = std::atan2(square.dot(e.out.cross(e.top)), square.dot(e.top));
}

// Angles of a tube on its chord. The acute side is where the tube leans over the chord.
void describe_cope(TubeEnd& e, const Vec3& node) {
  const Stretch* chord = stretch_below(e, node);
  if (!chord) return;
  const Vec3 brace = -e.out, direction = along(*chord), normal = brace.cross(direction);
  const double cosine = brace.dot(direction), sine = normal.norm();
  e.angle_deg = std::atan2(sine, std::abs(cosine)) / degree;
  e.notch_radius_mm = outer_radius_mm(chord->section);
  if (sine > 1e-6) e.offset_mm = std::abs((node - chord->from).dot(normal)) / sine;
  const bool square = 90 - e.angle_deg < right_angle_deg;
  set_crown(e, square || cosine < 0 ? Vec3(-direction) : direction);
}

void describe_mitre(TubeEnd& e) {
  for (const Cut& cut : e.cuts)
    if (const auto* plane = std::get_if<HalfSpace>(&cut.tool)) {
      e.onto = cut.by;
      e.saw_deg = std::acos(std::min(1.0, std::abs(plane->away.dot(e.out)))) / degree;
      e.angle_deg = 180 - 2 * e.saw_deg;
      set_crown(e, plane->away);
    }
}

// Cuts by other tubes at this end, those at the other end left out.
std::vector<Cut> cuts_at(const design::Design& d, const Part& part, const joints::Weld& weld) {
  std::vector<Cut> cuts;
  for (const Cut& cut : part.cuts) {
    const bool neighbour = std::any_of(d.welds.begin(), d.welds.end(), [&](const joints::Weld& w) {
      return w.member == cut.by && w.chord == weld.chord && !weld.chord.empty();
    });
    const bool mitre = std::any_of(d.welds.begin(), d.welds.end(), [&](const joints::Weld& w) {
      return w.member == cut.by && w.joint == weld.joint && w.node == weld.node;
    });
    if (is_round_stretch(cut) ? cut.by == weld.chord || neighbour : mitre) cuts.push_back(cut);
  }
  return cuts;
}

void describe_weld(TubeEnd& e, const design::Design& d, const Part& part, const joints::Weld& w,
                   const Vec3& node) {
  e.weld = w.id;
  if (w.layout == joints::Layout::slotted) {
    e.kind = TubeEnd::Kind::slotted;
    e.slot_wide_mm = w.plate_mm;
    e.slot_deep_mm = w.line_mm;
    return;
  }
  e.cuts = cuts_at(d, part, w);
  if (e.cuts.empty()) return;
  if (w.layout == joints::Layout::tube_on_tube) {
    e.kind = TubeEnd::Kind::coped;
    e.onto = w.chord;
    describe_cope(e, node);
  } else {
    e.kind = TubeEnd::Kind::mitred;
    describe_mitre(e);
  }
  for (const Cut& cut : e.cuts)
    if (cut.by != e.onto && std::find(e.others.begin(), e.others.end(), cut.by) == e.others.end())
      e.others.push_back(cut.by);
}

double first_met_mm(const CutPlace& p) { return p.cut_mm - p.gap_along_mm; }

TubeEnd end_of(const design::Design& d, const Part& part, bool at_start, const Vec3& top) {
  const frame::Member& m = design::member_of(d.frame, part.member);
  TubeEnd e;
  e.member = part.member;
  e.at_start = at_start;
  e.node = at_start ? m.nodes.front() : m.nodes.back();
  e.stretches = std::get<Hollow>(part.body).stretches;
  e.out = at_start ? Vec3(-along(e.stretches.front())) : along(e.stretches.back());
  e.top = top;
  const Vec3 node = design::position_of(d.frame, e.node) + (at_start ? m.start_offset_mm : m.end_offset_mm);
  for (const joints::Weld& w : d.welds)
    if (w.member == m.id && w.at_start == at_start) {
      describe_weld(e, d, part, w, node);
      break;
    }
  e.line = cut_line(e);
  for (std::size_t i = 0; i < e.line.size(); ++i)
    e.long_point_mm = i == 0 ? first_met_mm(e.line[i]) : std::min(e.long_point_mm, first_met_mm(e.line[i]));
  return e;
}

double axis_length_mm(const frame::Frame& f, const frame::Member& m) {
  double length = 0;
  Vec3 last = design::position_of(f, m.nodes.front()) + m.start_offset_mm;
  for (std::size_t i = 1; i < m.nodes.size(); ++i) {
    Vec3 next = design::position_of(f, m.nodes[i]);
    if (i + 1 == m.nodes.size()) next += m.end_offset_mm;
    length += (next - last).norm();
    last = next;
  }
  return length;
}

double turned_deg(double angle_rad, double whole_deg) {
  const double deg = angle_rad / degree;
  return deg - whole_deg * std::ceil(deg / whole_deg - 0.5 - 1e-9);
}

std::optional<double> twist_of(const Blank& b) {
  if (!b.start.crown_rad || !b.end.crown_rad) return {};
  const auto same_both_ways = [](const TubeEnd& e) {
    return e.kind == TubeEnd::Kind::coped && 90 - e.angle_deg < right_angle_deg && e.offset_mm < on_axis_mm;
  };
  // Angles of the start count about the direction out of it, against the axis.
  return turned_deg(*b.start.crown_rad + *b.end.crown_rad,
                    same_both_ways(b.start) || same_both_ways(b.end) ? 180 : 360);
}

}  // namespace

std::vector<Blank> blanks_of(const design::Design& d, const Plan& plan) {
  std::vector<Blank> out;
  for (const Part& part : plan.parts) {
    const auto* hollow = std::get_if<Hollow>(&part.body);
    if (part.member.empty() || !hollow || hollow->stretches.empty()) continue;
    const frame::Member& m = design::member_of(d.frame, part.member);
    Blank b{part.member, m.tube, part.steel, hollow->stretches.front().section, {},
            {},          0,      0,          hollow->stretches.size() - 1,      {}};
    Vec3 top = hollow->stretches.front().up;
    double length = 0;
    for (std::size_t i = 0; i < hollow->stretches.size(); ++i) {
      if (i > 0)  // round a bend in its plane
        top =
            Eigen::Quaterniond::FromTwoVectors(along(hollow->stretches[i - 1]), along(hollow->stretches[i])) *
            top;
      length += length_mm(hollow->stretches[i]);
    }
    b.start = end_of(d, part, true, hollow->stretches.front().up);
    b.end = end_of(d, part, false, top);
    b.axis_mm = axis_length_mm(d.frame, m);
    b.blank_mm = length - b.start.long_point_mm - b.end.long_point_mm;
    b.twist_deg = twist_of(b);
    out.push_back(std::move(b));
  }
  return out;
}

}  // namespace seamwright::shape
