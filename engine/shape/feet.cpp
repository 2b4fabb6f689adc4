// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/shape/feet.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <optional>

#include "engine/frame/check.h"
#include "engine/shape/cylinder.h"

namespace seamwright::shape {

namespace {

constexpr double rounding_mm = 0.01;

// A brace at its chord, by the nodes beside the joint.
struct BraceFoot {
  const joints::Weld* weld = nullptr;
  Vec3 at{0, 0, 0}, brace{0, 0, 0}, chord{0, 0, 0};  // on the brace's axis at the node; directions
  double brace_radius = 0, chord_radius = 0;
  double aside_mm = 0;   // between the axes
  double leaves_mm = 0;  // along the brace, to the chord's wall
};

template <class Part>
const Part* part_named(const std::vector<Part>& parts, const std::string& id) {
  const auto it = std::find_if(parts.begin(), parts.end(), [&](const Part& p) { return p.id == id; });
  return it == parts.end() ? nullptr : &*it;
}

const frame::RoundTube* round_tube_of(const frame::Frame& f, const frame::Member& m) {
  const frame::Tube* tube = part_named(f.tubes, m.tube);
  return tube ? std::get_if<frame::RoundTube>(&tube->section) : nullptr;
}

Vec3 node_position(const frame::Frame& f, const std::string& node) {
  const frame::Node* n = part_named(f.nodes, node);
  return n ? n->position_mm : Vec3(0, 0, 0);
}

std::optional<BraceFoot> brace_feet(const frame::Frame& f, const joints::Weld& w) {
  if (w.layout != joints::Layout::tube_on_tube) return {};
  const frame::Member *brace = part_named(f.members, w.member), *chord = part_named(f.members, w.chord);
  if (!brace || !chord) return {};
  const frame::RoundTube *tube = round_tube_of(f, *brace), *wall = round_tube_of(f, *chord);
  if (!tube || !wall) return {};
  BraceFoot s;
  s.weld = &w;
  s.brace_radius = tube->diameter_mm / 2;
  s.chord_radius = wall->diameter_mm / 2;
  const std::size_t last = brace->nodes.size() - 1;
  s.at = node_position(f, w.node) + (w.at_start ? brace->start_offset_mm : brace->end_offset_mm);
  Vec3 next = node_position(f, brace->nodes[w.at_start ? 1 : last - 1]);
  if (last == 1) next += w.at_start ? brace->end_offset_mm : brace->start_offset_mm;
  s.brace = (next - s.at).normalized();
  const auto at = std::find(chord->nodes.begin(), chord->nodes.end(), w.node);
  if (at == chord->nodes.end()) return {};
  const std::string& before = at == chord->nodes.begin() ? *at : *(at - 1);
  const std::string& after = at + 1 == chord->nodes.end() ? *at : *(at + 1);
  s.chord = (node_position(f, after) - node_position(f, before)).normalized();
  const Vec3 across = s.brace.cross(s.chord);
  const double sine = across.norm();
  if (!(sine > 0.01)) return {};
  s.aside_mm = std::abs((s.at - node_position(f, w.node)).dot(across) / sine);
  s.leaves_mm = std::sqrt(std::max(0.0, s.chord_radius * s.chord_radius - s.aside_mm * s.aside_mm)) / sine;
  return s;
}

// Two braces share this beyond the chord's wall, mm along the brace; the axis may be there within the other.
struct Overlap {
  double along_mm = 0;
  bool axis_within = false;
};

Overlap overlap(const BraceFoot& a, const BraceFoot& b) {
  const double cosine = a.brace.dot(b.brace), sine = a.brace.cross(b.brace).norm();
  if (cosine <= 0) return {};
  const Vec3 gap = a.at + a.leaves_mm * a.brace - b.at;
  const double apart = (gap - gap.dot(b.brace) * b.brace).norm();
  if (sine < 1e-6) return {0, apart < b.brace_radius};
  const double crotch = (b.brace_radius + a.brace_radius * cosine) / sine;
  const bool axes_meet = (a.at - b.at).norm() < rounding_mm;
  return {axes_meet ? crotch - a.leaves_mm : a.brace_radius + b.brace_radius - apart, apart < b.brace_radius};
}

Foot foot_of(const BraceFoot& s, MessageId id, std::vector<Argument> with, bool possible) {
  std::vector<Argument> arguments{text("weld", s.weld->id), text("member", s.weld->member),
                                  text("chord", s.weld->chord)};
  arguments.insert(arguments.end(), with.begin(), with.end());
  return {s.weld->id, Message{id, std::move(arguments)}, possible};
}

}  // namespace

std::vector<Foot> feet(const frame::Frame& frame, const std::vector<joints::Weld>& welds) {
  std::vector<BraceFoot> all;
  for (const joints::Weld& w : welds)
    if (const std::optional<BraceFoot> s = brace_feet(frame, w)) all.push_back(*s);
  std::vector<Foot> out;
  for (const BraceFoot& s : all) {
    if (s.brace_radius > s.chord_radius * (1 + 1e-9))
      out.push_back(
          foot_of(s, "shape.foot-wider", {number("beyond", s.brace_radius - s.chord_radius, "mm")}, false));
    if (s.aside_mm > rounding_mm)
      out.push_back(foot_of(s, "shape.foot-aside", {number("aside", s.aside_mm, "mm")}, false));
    for (const BraceFoot& other : all) {
      if (&other == &s || other.weld->chord != s.weld->chord || other.weld->node != s.weld->node) continue;
      const Overlap with = overlap(s, other);
      if (!with.axis_within && with.along_mm <= rounding_mm) continue;
      out.push_back(foot_of(s, with.axis_within ? MessageId("shape.foot-in-brace") : "shape.feet-touch",
                            {text("other", other.weld->member), number("along", with.along_mm, "mm")},
                            !with.axis_within));
    }
  }
  return out;
}

}  // namespace seamwright::shape
