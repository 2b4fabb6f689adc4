// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/solid/frame_joints.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <optional>
#include <set>

#include "engine/design/weld_geometry.h"
#include "engine/shape/fibre.h"
#include "engine/shape/pieces.h"
#include "engine/shape/plan.h"
#include "engine/solid/seam_path.h"

namespace seamwright::solid {

namespace {

using design::Design;
using joints::Weld;

// Diameters beyond the toes at which a member is sawn off.
struct Stub {
  double wished, least;
};
constexpr Stub chord_stub{2, 1.5}, brace_stub{1, 0.4};

// What the welds of one node take of a member that passes or ends there, along its axis from the node.
struct Take {
  std::size_t node = 0;  ///< of the design
  double at_mm = 0;      ///< of the node, along the axis
  double before_mm = 0, after_mm = 0;  ///< of the toes; 0 where the member has none on that side
  bool chord = false;
};

struct Axis {
  std::vector<double> at_mm;  ///< of each node
  double length_mm = 0;
};

class Finder {
 public:
  Finder(const Design& design, const JointOptions& options)
      : design_(design), options_(options), plan_(shape::plan_of(design)), group_(design.frame.nodes.size()) {
    std::iota(group_.begin(), group_.end(), std::size_t{0});
    for (std::size_t i = 0; i < design.frame.nodes.size(); ++i) node_number_[design.frame.nodes[i].id] = i;
    for (const frame::Member& m : design.frame.members) {
      Axis axis;
      for (std::size_t i = 0; i < m.nodes.size(); ++i) {
        if (i > 0) axis.length_mm += (design::position_of(design.frame, m.nodes[i]) - design::position_of(design.frame, m.nodes[i - 1])).norm();
        axis.at_mm.push_back(axis.length_mm);
      }
      axes_[m.id] = std::move(axis);
    }
  }

  FrameJoints find() {
    for (const Weld& w : design_.welds) note_weld(w);
    for (auto& [member, takes] : takes_) {
      std::sort(takes.begin(), takes.end(), [](const Take& a, const Take& b) { return a.at_mm < b.at_mm; });
      for (std::size_t i = 1; i < takes.size(); ++i)
        if (room(takes[i - 1], takes[i]) < (least(takes[i - 1]) + least(takes[i])) * diameter(member)) join(takes[i - 1].node, takes[i].node);
    }
    std::map<std::size_t, std::set<std::size_t>> groups;
    for (const auto& [member, takes] : takes_)
      for (const Take& t : takes) groups[root(t.node)].insert(t.node);
    for (const auto& [first, nodes] : groups) build(nodes);
    return std::move(out_);
  }

 private:
  static double room(const Take& a, const Take& b) { return b.at_mm - b.before_mm - a.at_mm - a.after_mm; }
  static double least(const Take& t) { return (t.chord ? chord_stub : brace_stub).least; }
  static double wished(const Take& t) { return (t.chord ? chord_stub : brace_stub).wished; }
  double diameter(const std::string& member) const { return 2 * shape::outer_radius_mm(section(member)); }
  const frame::Section& section(const std::string& member) const {
    return design::tube_of(design_.frame, design::member_of(design_.frame, member)).section;
  }
  std::size_t root(std::size_t node) {
    while (group_[node] != node) node = group_[node];
    return node;
  }
  void join(std::size_t a, std::size_t b) {
    const std::size_t ra = root(a), rb = root(b);
    group_[std::max(ra, rb)] = std::min(ra, rb);
  }

  const shape::WeldBody* body_of(const Weld& w) const {
    const auto found = std::find_if(plan_.welds.begin(), plan_.welds.end(), [&](const shape::WeldBody& b) { return b.id == w.id; });
    return found == plan_.welds.end() ? nullptr : &*found;
  }

  void leave(const Weld& w, const Message& why) { out_.without.push_back({w.id, why}); }

  void note_weld(const Weld& w) {
    const shape::WeldBody* body = body_of(w);
    const auto* fillet = body ? std::get_if<shape::FilletAround>(&body->body) : nullptr;
    if (!fillet) return leave(w, {"joint.no-tubes", {text("weld", w.id)}});
    const auto round = [](const frame::Section& s) {
      return std::holds_alternative<frame::RoundTube>(s) || std::holds_alternative<frame::SolidBar>(s);
    };
    if (!round(section(w.member)) || !round(section(w.chord))) return leave(w, {"joint.no-tubes", {text("weld", w.id)}});
    std::optional<SeamPath> path;
    try {
      path.emplace(*fillet, 72);
    } catch (const std::exception&) {
      return leave(w, {"joint.no-seam", {text("weld", w.id)}});
    }
    const Vec3 node = design::position_of(design_.frame, w.node), brace = shape::along(fillet->brace), chord = shape::along(fillet->chord);
    double up = 0, ahead = 0, behind = 0;
    for (const SeamSection& s : path->sections()) {
      for (const Vec3& p : {s.brace_toe, s.chord_toe}) {
        up = std::max(up, (p - node).dot(brace));
        ahead = std::max(ahead, (p - node).dot(chord));
        behind = std::max(behind, -(p - node).dot(chord));
      }
    }
    note_member(w.member, w.node, false, w.at_start ? 0 : up, w.at_start ? up : 0);
    note_member(w.chord, w.node, true, behind, ahead);
    seams_.push_back(&w);
  }

  void note_member(const std::string& member, const std::string& node, bool chord, double before, double after) {
    const frame::Member& m = design::member_of(design_.frame, member);
    const auto place = std::find(m.nodes.begin(), m.nodes.end(), node) - m.nodes.begin();
    const std::size_t number = node_number_.at(node);
    std::vector<Take>& takes = takes_[member];
    auto found = std::find_if(takes.begin(), takes.end(), [&](const Take& t) { return t.node == number; });
    if (found == takes.end()) {
      takes.push_back({number, axes_.at(member).at_mm[static_cast<std::size_t>(place)], 0, 0, false});
      found = takes.end() - 1;
    }
    found->before_mm = std::max(found->before_mm, before);
    found->after_mm = std::max(found->after_mm, after);
    found->chord = found->chord || chord;
  }

  // A tube is not sawn off at a node of the frame, where two places would be one: a tenth of its diameter further out, or, beyond the
  // furthest place, further in.
  double clear_of_nodes(const std::string& member, double end_mm, int out, double furthest_mm) const {
    const double clear = 0.1 * diameter(member);
    for (const double node_mm : axes_.at(member).at_mm) {
      if (std::abs(node_mm - end_mm) >= clear) continue;
      const double further = node_mm + out * clear;
      end_mm = out * (furthest_mm - further) >= 0 ? further : node_mm - out * clear;
    }
    return end_mm;
  }

  // The stretches of a member that lie in the joint of these nodes.
  std::vector<Inside> inside(const std::string& member, const std::set<std::size_t>& nodes) const {
    const std::vector<Take>& takes = takes_.at(member);
    const double length = axes_.at(member).length_mm, wide = diameter(member), far = 10 * wide;
    std::vector<Inside> out;
    for (std::size_t i = 0; i < takes.size(); ++i) {
      const Take& t = takes[i];
      if (!nodes.contains(t.node)) continue;
      Inside here{member, t.at_mm - t.before_mm - wished(t) * wide, t.at_mm + t.after_mm + wished(t) * wide, true, true};
      double least_from = -far, most_to = length + far;
      // Neighbours of other joints share the room between them by what each asks.
      const auto share = [&](const Take& a, const Take& b, double own) { return room(a, b) * 0.499 * 2 * own / (least(a) + least(b)); };
      if (i > 0 && !nodes.contains(takes[i - 1].node)) least_from = t.at_mm - t.before_mm - share(takes[i - 1], t, least(t));
      if (i + 1 < takes.size() && !nodes.contains(takes[i + 1].node)) most_to = t.at_mm + t.after_mm + share(t, takes[i + 1], least(t));
      here.from_mm = clear_of_nodes(member, std::max(here.from_mm, least_from), -1, least_from);
      here.to_mm = clear_of_nodes(member, std::min(here.to_mm, most_to), 1, most_to);
      if (here.from_mm <= 0.1 * wide) here.from_mm = -far, here.sawn_before = false;
      if (here.to_mm >= length - 0.1 * wide) here.to_mm = length + far, here.sawn_after = false;
      if (i > 0 && nodes.contains(takes[i - 1].node) && !out.empty()) {
        if (here.from_mm <= out.back().to_mm || room(takes[i - 1], t) < (least(takes[i - 1]) + least(t)) * wide) {
          out.back().to_mm = here.to_mm;
          out.back().sawn_after = here.sawn_after;
          continue;
        }
      }
      out.push_back(here);
    }
    return out;
  }

  void build(const std::set<std::size_t>& nodes);
  void add_parts(FrameJoint& joint) const;
  void add_nodes_between(FrameJoint& joint) const;

  const Design& design_;
  const JointOptions& options_;
  shape::Plan plan_;
  std::map<std::string, std::size_t> node_number_;
  std::map<std::string, Axis> axes_;
  std::map<std::string, std::vector<Take>> takes_;
  std::vector<const Weld*> seams_;
  std::vector<std::size_t> group_;
  FrameJoints out_;
};

// The part of a way between two distances along it; the way's own ends lie at `first` and at `first` + its length. Says where it was cut.
struct Clipped {
  std::vector<shape::Stretch> stretches;
  std::optional<End> before, after;
};

Clipped clip(const std::vector<shape::Stretch>& way, double first, const Inside& inside) {
  Clipped out;
  double at = first;
  for (const shape::Stretch& s : way) {
    const double length = shape::length_mm(s), from = std::max(inside.from_mm, at), to = std::min(inside.to_mm, at + length);
    if (to - from > 0.5) {
      const Vec3 ahead = shape::along(s);
      shape::Stretch piece = s;
      piece.from = s.from + (from - at) * ahead;
      piece.to = s.from + (to - at) * ahead;
      if (inside.sawn_before && out.stretches.empty()) out.before = End{0, piece.from, -ahead};
      if (inside.sawn_after) out.after = End{0, piece.to, ahead};
      out.stretches.push_back(piece);
    }
    at += length;
  }
  return out;
}

// Everything of a task into axes of its own.
struct Turn {
  Eigen::Matrix3d axes;
  Vec3 origin;
  bool rounded = false;  ///< to a millionth, as tasks are sent
  Vec3 as_sent(const Vec3& v) const { return rounded ? Vec3(((v * 1e6).array().round() / 1e6 + 0.0).matrix()) : v; }
  Vec3 point(const Vec3& p) const { return as_sent(axes * (p - origin)); }
  Vec3 direction(const Vec3& d) const { return as_sent(axes * d); }
  void operator()(shape::Stretch& s) const {
    s.from = point(s.from);
    s.to = point(s.to);
    s.up = direction(s.up);
  }
  void operator()(shape::HalfSpace& h) const {
    h.point = point(h.point);
    h.away = direction(h.away);
  }
  void cuts(std::vector<shape::Cut>& all) const {
    for (shape::Cut& c : all) std::visit(*this, c.tool);
  }
  void part(shape::Part& p) const {
    for (shape::Stretch& s : std::get<shape::Hollow>(p.body).stretches) (*this)(s);
    cuts(p.cuts);
  }
  void seam(Seam& s) const {
    (*this)(s.fillet.brace);
    (*this)(s.fillet.chord);
    s.fillet.crown = direction(s.fillet.crown);
    cuts(s.cuts);
  }
};

void turn(JointTask& task, const Turn& into) {
  for (shape::Part& p : task.parts) into.part(p);
  for (Seam& s : task.seams) into.seam(s);
  for (End& e : task.ends) {
    e.at = into.point(e.at);
    e.out = into.direction(e.out);
  }
  for (Seat& s : task.seats) s.at = into.point(s.at);
}

int part_number(const JointTask& task, const std::string& member, const Vec3& near) {
  int best = -1;
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < task.parts.size(); ++i) {
    if (task.parts[i].member != member) continue;
    for (const shape::Stretch& s : std::get<shape::Hollow>(task.parts[i].body).stretches)
      if (const double d = shape::nearest(near, near, s.from, s.to).distance_mm; d < least) {
        least = d;
        best = static_cast<int>(i);
      }
  }
  return best;
}

void Finder::add_parts(FrameJoint& joint) const {
  for (const Inside& in : joint.inside)
    for (const shape::Part& part : plan_.parts) {
      const auto* hollow = std::get_if<shape::Hollow>(&part.body);
      if (!hollow || part.member != in.member) continue;
      // The plan's tube may begin before the first node, or behind it.
      const frame::Member& m = design::member_of(design_.frame, in.member);
      const Vec3 start = design::position_of(design_.frame, m.nodes.front()) + m.start_offset_mm;
      const double first = (hollow->stretches.front().from - start).dot(shape::along(hollow->stretches.front()));
      Clipped clipped = clip(hollow->stretches, first, in);
      if (clipped.stretches.empty()) continue;
      shape::Part piece = part;
      piece.body = shape::Hollow{clipped.stretches};
      const auto number = static_cast<int>(joint.task.parts.size());
      joint.part_names.push_back(part.id);
      joint.task.parts.push_back(std::move(piece));
      for (const auto& [end, before] : {std::pair{clipped.before, true}, {clipped.after, false}})
        if (end) {
          joint.task.ends.push_back({number, end->at, end->out});
          joint.ends.push_back({in.member, before, before ? in.from_mm : in.to_mm});
        }
    }
}

// Nodes on the members inside at which nothing is welded: something may bear on them.
void Finder::add_nodes_between(FrameJoint& joint) const {
  for (const Inside& in : joint.inside) {
    const frame::Member& m = design::member_of(design_.frame, in.member);
    for (std::size_t i = 0; i < m.nodes.size(); ++i) {
      const double at_mm = axes_.at(in.member).at_mm[i];
      if (at_mm < in.from_mm || at_mm > in.to_mm || std::find(joint.nodes.begin(), joint.nodes.end(), m.nodes[i]) != joint.nodes.end()) continue;
      const Vec3 at = design::position_of(design_.frame, m.nodes[i]);
      joint.nodes.push_back(m.nodes[i]);
      joint.task.seats.push_back({part_number(joint.task, in.member, at), at});
    }
  }
}

// A tube that is sawn off behind alone is told from its other end.
void turn_round(JointTask& task) {
  for (std::size_t i = 0; i < task.parts.size(); ++i) {
    std::vector<shape::Stretch>& way = std::get<shape::Hollow>(task.parts[i].body).stretches;
    const auto sawn = [&](const Vec3& at) {
      return std::any_of(task.ends.begin(), task.ends.end(), [&](const End& e) { return e.part == static_cast<int>(i) && (e.at - at).norm() < 1e-6; });
    };
    if (!sawn(way.front().from) || sawn(way.back().to)) continue;
    std::reverse(way.begin(), way.end());
    for (shape::Stretch& s : way) std::swap(s.from, s.to);
  }
}

// A tool beyond the joint's parts cuts nothing there: how long it is elsewhere in the frame does not matter.
void shorten(shape::Stretch& tool, double reach) {
  const Vec3 ahead = shape::along(tool), start = tool.from;
  const double length = shape::length_mm(tool), middle = -start.dot(ahead), from = std::max(0.0, middle - reach), to = std::min(length, middle + reach);
  if (!(to > from)) return;
  tool.from = start + from * ahead;
  tool.to = start + to * ahead;
}

// A round section has no upper side.
void level(shape::Stretch& s) {
  if (!std::holds_alternative<frame::RoundTube>(s.section) && !std::holds_alternative<frame::SolidBar>(s.section)) return;
  const Vec3 ahead = shape::along(s), up = std::abs(ahead.z()) < 0.9 ? Vec3::UnitZ() : Vec3::UnitX();
  s.up = (up - up.dot(ahead) * ahead).normalized();
}

void tidy_stretches(JointTask& task) {
  double furthest = 0;
  for (const shape::Part& p : task.parts)
    for (const shape::Stretch& s : std::get<shape::Hollow>(p.body).stretches) furthest = std::max({furthest, s.from.norm(), s.to.norm()});
  const double reach = 2 * furthest;
  const auto tidy = [&](std::vector<shape::Cut>& cuts) {
    for (shape::Cut& c : cuts)
      if (auto* tool = std::get_if<shape::Stretch>(&c.tool)) {
        shorten(*tool, reach);
        level(*tool);
      }
  };
  for (shape::Part& p : task.parts) {
    for (shape::Stretch& s : std::get<shape::Hollow>(p.body).stretches) level(s);
    tidy(p.cuts);
  }
  for (Seam& s : task.seams) {
    for (shape::Stretch* one : {&s.fillet.brace, &s.fillet.chord}) {
      shorten(*one, reach);
      level(*one);
    }
    tidy(s.cuts);
  }
}

// Joints that are alike, or mirror images, shall have the same task: numbers in place of names, and the first end that lies off the
// plane of the first weld to its left.
void make_alike(FrameJoint& joint) {
  JointTask& task = joint.task;
  constexpr double off_mm = 1e-3;
  const auto off = std::find_if(task.ends.begin(), task.ends.end(), [&](const End& e) { return std::abs(e.at.y()) > off_mm; });
  if (off != task.ends.end() && off->at.y() < 0) {
    const Eigen::Matrix3d mirror = Vec3(1, -1, 1).asDiagonal();
    turn(task, {mirror, Vec3::Zero(), false});
    joint.axes = mirror * joint.axes;
  }
  turn_round(task);
  tidy_stretches(task);
  turn(task, {Eigen::Matrix3d::Identity(), Vec3::Zero(), true});
  for (std::size_t i = 0; i < task.parts.size(); ++i) {
    shape::Part& p = task.parts[i];
    p.id = "#" + std::to_string(i);
    if (!p.member.empty()) p.member = p.id;
    p.steel.clear();
    for (shape::Cut& c : p.cuts) c.by.clear();
  }
  for (std::size_t i = 0; i < task.seams.size(); ++i) {
    task.seams[i].weld = "#" + std::to_string(i);
    for (shape::Cut& c : task.seams[i].cuts) c.by.clear();
  }
}

void Finder::build(const std::set<std::size_t>& nodes) {
  FrameJoint joint;
  for (const std::size_t n : nodes) joint.nodes.push_back(design_.frame.nodes[n].id);
  joint.id = joint.nodes.front();
  for (const frame::Member& m : design_.frame.members)
    if (takes_.contains(m.id))
      for (Inside& in : inside(m.id, nodes)) joint.inside.push_back(std::move(in));
  add_parts(joint);
  joint.origin_mm = design_.frame.nodes[*nodes.begin()].position_mm;
  for (const Weld* w : seams_) {
    if (!nodes.contains(node_number_.at(w->node))) continue;
    const shape::WeldBody* body = body_of(*w);
    const Vec3 node = design::position_of(design_.frame, w->node);
    Seam seam;
    seam.weld = w->id;
    seam.fillet = std::get<shape::FilletAround>(body->body);
    seam.cuts = body->cuts;
    seam.fused = w->root_proven;
    if (const auto* tube = std::get_if<frame::RoundTube>(&section(w->member))) seam.fusion_mm = joints::counted_fusion_mm(*w, tube->wall_mm);
    seam.brace = part_number(joint.task, w->member, node);
    seam.chord = part_number(joint.task, w->chord, node);
    if (options_.readings) {
      shape::Stretch brace = seam.fillet.brace, chord = seam.fillet.chord;
      brace.section = section(w->member);
      chord.section = section(w->chord);
      seam.readings = options_.readings(brace, chord);
    }
    if (joint.welds.empty()) {
      const Vec3 x = shape::along(seam.fillet.chord), b = shape::along(seam.fillet.brace);
      const Vec3 z = (b - b.dot(x) * x).normalized();
      joint.axes << x.transpose(), z.cross(x).transpose(), z.transpose();
      const frame::Tube& tube = design::tube_of(design_.frame, design::member_of(design_.frame, w->chord));
      for (const frame::Material& m : design_.frame.materials)
        if (m.id == tube.material) joint.task.steel = {m.youngs_mpa, m.poisson};
    }
    joint.welds.push_back(w->id);
    joint.task.seams.push_back(std::move(seam));
  }
  for (const std::string& id : joint.nodes) {
    const auto chord = std::find_if(seams_.begin(), seams_.end(), [&](const Weld* w) { return w->node == id; });
    const Vec3 at = design::position_of(design_.frame, id);
    joint.task.seats.push_back({part_number(joint.task, (*chord)->chord, at), at});
  }
  add_nodes_between(joint);
  joint.task.size = options_.size;
  turn(joint.task, {joint.axes, joint.origin_mm, false});
  make_alike(joint);
  if (joint.task.ends.empty()) {
    for (const std::string& id : joint.welds) out_.without.push_back({id, {"joint.no-end", {text("weld", id)}}});
    return;
  }
  out_.joints.push_back(std::move(joint));
}

}  // namespace

double angle_in_frame(const FrameJoint& joint, double angle_deg) {
  return joint.mirrored() && angle_deg != 0 ? 360 - angle_deg : angle_deg;
}

FrameJoints frame_joints(const Design& design, const JointOptions& options) { return Finder(design, options).find(); }

JointTask with_open_roots(const JointTask& task) {
  JointTask open = task;
  for (Seam& s : open.seams) {
    s.fused = false;
    s.fusion_mm = 0;
  }
  return open;
}

std::vector<FrameJoint> joints_to_model(const std::vector<FrameJoint>& joints) {
  std::vector<FrameJoint> all = joints;
  for (const FrameJoint& j : joints) {
    if (std::none_of(j.task.seams.begin(), j.task.seams.end(), [](const Seam& s) { return s.fused || s.fusion_mm > 0; })) continue;
    all.push_back(j);
    all.back().task = with_open_roots(j.task);
  }
  return all;
}

}  // namespace seamwright::solid
