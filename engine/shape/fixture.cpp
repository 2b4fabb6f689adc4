// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/shape/fixture.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "engine/design/sides.h"
#include "engine/design/weld_geometry.h"
#include "engine/frame/check.h"
#include "engine/shape/fibre.h"
#include "engine/shape/pieces.h"

namespace seamwright::shape {

namespace {

using design::Design;
using frame::Member;

const std::vector<Stretch>* stretches_named(const Plan& plan, const std::string& member) {
  for (const Part& p : plan.parts)
    if (p.member == member)
      if (const auto* hollow = std::get_if<Hollow>(&p.body)) return &hollow->stretches;
  return nullptr;
}

// Members in groups that share nodes.
std::vector<std::vector<const Member*>> groups_of(const Design& d) {
  std::map<std::string, std::size_t> group_at;  // of each node
  std::vector<std::vector<const Member*>> groups;
  for (const Member& m : d.frame.members) {
    if (m.axial_only) continue;
    std::set<std::size_t> met;
    for (const std::string& n : m.nodes)
      if (const auto it = group_at.find(n); it != group_at.end()) met.insert(it->second);
    const std::size_t into = met.empty() ? groups.size() : *met.begin();
    if (met.empty()) groups.emplace_back();
    for (const std::size_t other : met)
      if (other != into) {
        groups[into].insert(groups[into].end(), groups[other].begin(), groups[other].end());
        groups[other].clear();
        for (auto& [node, group] : group_at)
          if (group == other) group = into;
      }
    groups[into].push_back(&m);
    for (const std::string& n : m.nodes) group_at[n] = into;
  }
  std::erase_if(groups, [](const auto& g) { return g.empty(); });
  for (auto& g : groups) std::sort(g.begin(), g.end());  // all lie in one vector: the design's order
  return groups;
}

// A round wall's lowest line, or the lowest corner of another section's box.
double lowest_mm(const Stretch& s) {
  const Vec3 axis = along(s);
  const double below = std::holds_alternative<frame::RoundTube>(s.section) ||
                               std::holds_alternative<frame::SolidBar>(s.section)
                           ? outer_radius_mm(s.section) * std::hypot(axis.x(), axis.y())
                           : -inside(Line{Vec3(s.from + s.to) / 2, Vec3::UnitZ()}, s).from_mm;
  return std::min(s.from.z(), s.to.z()) - below;
}

bool has_cope(const Design& d, const Member& m, bool at_start) {
  return std::any_of(d.welds.begin(), d.welds.end(), [&](const joints::Weld& w) {
    return w.member == m.id && w.at_start == at_start && w.layout == joints::Layout::tube_on_tube;
  });
}

void add_places(const Design& d, const Plan& plan, const std::vector<const Member*>& members, Weldment& out) {
  std::set<std::string> nodes;
  for (const Member* m : members) {
    nodes.insert(m->nodes.begin(), m->nodes.end());
    const std::vector<Stretch>* all = stretches_named(plan, m->id);
    if (!all) continue;
    for (const bool start : {true, false})
      if (!has_cope(d, *m, start))
        out.ends.push_back(
            {m->id, start ? m->nodes.front() : m->nodes.back(), start ? all->front().from : all->back().to});
  }
  for (const frame::Node& n : d.frame.nodes)
    if (nodes.count(n.id)) out.nodes.push_back({n.id, n.id, n.position_mm});
}

void add_diagonals(const Design& d, const std::vector<const Member*>& members, Weldment& out) {
  const auto length = [&](const std::string& a, const std::string& b) {
    return (design::position_of(d.frame, a) - design::position_of(d.frame, b)).norm();
  };
  std::set<std::pair<std::string, std::string>> known;
  for (const Member* m : members) {
    const std::string &a = m->nodes.front(), &b = m->nodes.back();
    const std::string c = design::other_side(a), e = design::other_side(b);
    const bool twin = std::any_of(members.begin(), members.end(), [&](const Member* o) {
      return o != m && o->id == design::other_side(m->id);
    });
    if (!twin || a == c || b == e || design::side_of(m->id) != ".L" || !known.emplace(a, b).second) continue;
    if ((design::position_of(d.frame, a) - design::position_of(d.frame, b)).cwiseAbs().x() <
            frame::same_place_mm &&
        std::abs(design::position_of(d.frame, a).z() - design::position_of(d.frame, b).z()) <
            frame::same_place_mm)
      continue;  // straight across: no diagonal
    out.diagonals.push_back({a, e, c, b, length(a, e), length(c, b)});
  }
}

// The stretch through a node that lies nearest to a direction.
void add_axis(const Design& d, const Plan& plan, const std::vector<const Member*>& members,
              TrueAxis::Kind kind, const std::string& node, const Vec3& direction, Weldment& out) {
  const Vec3 at = design::position_of(d.frame, node);
  const Stretch* best = nullptr;
  const Member* of_member = nullptr;
  for (const Member* m : members) {
    if (std::find(m->nodes.begin(), m->nodes.end(), node) == m->nodes.end()) continue;
    const std::vector<Stretch>* all = stretches_named(plan, m->id);
    if (!all) continue;
    for (const Stretch& s : *all) {
      const double past = (at - s.from).dot(along(s));
      if (past < -frame::same_place_mm || past > length_mm(s) + frame::same_place_mm) continue;
      if (best && std::abs(along(s).dot(direction)) <= std::abs(along(*best).dot(direction))) continue;
      best = &s;
      of_member = m;
    }
  }
  if (best) out.axes.push_back({kind, of_member->id, best->from, best->to});
}

void add_axes(const Design& d, const Plan& plan, const std::vector<const Member*>& members, Weldment& out) {
  using Kind = TrueAxis::Kind;
  for (const frame::Hinge& h : d.frame.hinges)
    for (const std::string& node : {h.first, h.second})
      add_axis(d, plan, members, Kind::steering, node, h.axis.normalized(), out);
  for (const frame::Wheel& w : d.frame.wheels)
    add_axis(d, plan, members, frame::side_of(w) == 0 ? Kind::rear_hub : Kind::front_hub, w.node,
             Vec3::UnitY(), out);
  if (!d.carriers.pedal_node.empty())
    add_axis(d, plan, members, Kind::crank, d.carriers.pedal_node, Vec3::UnitY(), out);
}

}  // namespace

std::vector<Weldment> weldments_of(const Design& d, const Plan& plan) {
  std::vector<Weldment> all;
  for (const std::vector<const Member*>& members : groups_of(d)) {
    Weldment w;
    bool any = false;
    for (const Member* m : members) {
      w.members.push_back(m->id);
      if (const std::vector<Stretch>* stretches = stretches_named(plan, m->id))
        for (const Stretch& s : *stretches) {
          w.table_mm = any ? std::min(w.table_mm, lowest_mm(s)) : lowest_mm(s);
          any = true;
        }
    }
    add_places(d, plan, members, w);
    add_diagonals(d, members, w);
    add_axes(d, plan, members, w);
    for (auto* places : {&w.nodes, &w.ends})
      for (FixturePlace& p : *places) p.at_mm.z() -= w.table_mm;
    for (TrueAxis& a : w.axes) {
      a.from_mm.z() -= w.table_mm;
      a.to_mm.z() -= w.table_mm;
    }
    all.push_back(std::move(w));
  }
  return all;
}

}  // namespace seamwright::shape
