// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/shape/joint_plan.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <set>

#include "engine/design/weld_geometry.h"
#include "engine/shape/fibre.h"
#include "engine/shape/pieces.h"

namespace seamwright::shape {

namespace {

// So many widths of the largest tube are seen of each beyond the weld: engineering default of ours.
constexpr double widths_seen = 0.9, least_sine = 0.3;

struct Shift {
  Vec3 by;
  void operator()(Stretch& s) const {
    s.from += by;
    s.to += by;
  }
  void operator()(HalfSpace& h) const { h.point += by; }
  void operator()(FilletAround& f) const {
    (*this)(f.brace);
    (*this)(f.chord);
  }
  void operator()(FilletRing& f) const { (*this)(f.tube); }
  void operator()(std::vector<FilletAlong>& lines) const {
    for (FilletAlong& f : lines) {
      f.from += by;
      f.to += by;
    }
  }
  void operator()(Hollow& h) const {
    for (Stretch& s : h.stretches) (*this)(s);
  }
  void operator()(Flat& f) const { f.plate.origin_mm += by; }
  template <class Body>
  void whole(Body& body) const {
    std::visit(*this, body.body);
    for (Cut& c : body.cuts) std::visit(*this, c.tool);
  }
};

// The part of a stretch within reach of the origin; false for nothing.
bool saw_off(Stretch& s, double reach) {
  const Vec3 ahead = along(s);
  const double length = length_mm(s), middle = -s.from.dot(ahead);
  const double from = std::max(0.0, middle - reach), to = std::min(length, middle + reach);
  if ((s.from + middle * ahead).norm() > reach || to - from < 1) return false;
  const Vec3 start = s.from;
  s.from = start + from * ahead;
  s.to = start + to * ahead;
  return true;
}

struct Members {
  std::set<std::string> members, welds;
  double widest_mm = 0;
};

Members members_at(const design::Design& design, const joints::Weld& weld) {
  Members all;
  for (const joints::Weld& w : design.welds) {
    if (w.node != weld.node || w.chord != weld.chord || (weld.chord.empty() && w.joint != weld.joint)) continue;
    all.welds.insert(w.id);
    for (const std::string& id : {w.member, w.chord})
      if (!id.empty()) all.members.insert(id);
  }
  for (const std::string& id : all.members)
    all.widest_mm = std::max(all.widest_mm, 2 * outer_radius_mm(design::tube_of(design.frame, design::member_of(design.frame, id)).section));
  return all;
}

void turn_axes(const design::Design& design, const joints::Weld& w, JointPlan& joint) {
  const Vec3 none = Vec3::Zero();
  if (!w.member.empty() && !w.chord.empty()) {
    joint.brace = design::seat_of(design.frame, w).brace;
    joint.right = design::chord_direction(design.frame, w);
    joint.has_angle = true;
  } else if (!w.chord.empty()) {
    joint.right = design::chord_direction(design.frame, w);
    joint.brace = w.stands == none ? joint.right.unitOrthogonal() : Vec3(w.stands.normalized());
  } else {
    const frame::Member& m = design::member_of(design.frame, w.member);
    joint.brace = (design::end_position(design.frame, m, !w.at_start) - design::end_position(design.frame, m, w.at_start)).normalized();
    // A plate is seen from its face.
    joint.right = w.plate_normal == none ? joint.brace.unitOrthogonal() : Vec3(joint.brace.cross(w.plate_normal).normalized());
  }
  joint.up = (joint.brace - joint.brace.dot(joint.right) * joint.right).normalized();
}

}  // namespace

JointPlan joint_plan(const design::Design& design, const Plan& plan, const std::string& id) {
  const joints::Weld& weld = *std::find_if(design.welds.begin(), design.welds.end(),
                                           [&](const joints::Weld& w) { return w.id == id; });
  JointPlan joint;
  turn_axes(design, weld, joint);
  const Members here = members_at(design, weld);
  const double sine = joint.has_angle ? std::max(least_sine, joint.brace.dot(joint.up)) : 1;
  joint.reach_mm = (1 / sine + widths_seen) * here.widest_mm;
  const Shift shift{-design::position_of(design.frame, weld.node)};
  for (WeldBody body : plan.welds) {
    if (!here.welds.contains(body.id)) continue;
    shift.whole(body);
    // A tube slotted over a plate ends before the node: it is seen beyond its weld lines too.
    if (const auto* lines = std::get_if<std::vector<FilletAlong>>(&body.body))
      for (const FilletAlong& line : *lines)
        joint.reach_mm = std::max({joint.reach_mm, line.from.norm() + widths_seen * here.widest_mm,
                                   line.to.norm() + widths_seen * here.widest_mm});
    joint.plan.welds.push_back(std::move(body));
  }
  for (Part part : plan.parts) {
    const auto* flat = std::get_if<Flat>(&part.body);
    const auto holds = [&](const std::string& w) { return here.welds.contains(w); };
    if (flat ? std::none_of(flat->plate.welds.begin(), flat->plate.welds.end(), holds)
             : !here.members.contains(part.member))
      continue;
    shift.whole(part);
    if (auto* tube = std::get_if<Hollow>(&part.body)) {
      std::vector<Stretch> seen;
      for (Stretch s : tube->stretches)
        if (saw_off(s, joint.reach_mm)) seen.push_back(s);
      if (seen.empty()) continue;
      tube->stretches = std::move(seen);
    }
    joint.plan.parts.push_back(std::move(part));
  }
  return joint;
}

}  // namespace seamwright::shape
