// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/shape/pieces.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "engine/evidence/constants.h"
#include "engine/frame/check.h"
#include "engine/frame/frame.h"

namespace seamwright::shape {

namespace {

const double straight_cosine = std::cos(0.1 * degree);

struct Nodes {
  std::map<std::string, std::size_t> index;
  std::vector<std::size_t> place;  // of each node
};

Nodes nodes_of(const frame::Frame& frame) {
  Nodes nodes;
  for (std::size_t i = 0; i < frame.nodes.size(); ++i) {
    nodes.index.emplace(frame.nodes[i].id, i);
    nodes.place.push_back(i);
  }
  for (const frame::Hinge& h : frame.hinges) {
    const auto first = nodes.index.find(h.first), second = nodes.index.find(h.second);
    if (first == nodes.index.end() || second == nodes.index.end()) continue;
    const std::size_t keep = nodes.place[first->second], drop = nodes.place[second->second];
    std::replace(nodes.place.begin(), nodes.place.end(), drop, keep);
  }
  return nodes;
}

// The axis through all nodes, eccentric at its ends where the member is.
std::vector<Vec3> axis_of(const frame::Frame& frame, const Nodes& nodes, const frame::Member& m) {
  std::vector<Vec3> axis;
  for (const std::string& node : m.nodes) axis.push_back(frame.nodes[nodes.index.at(node)].position_mm);
  axis.front() += m.start_offset_mm;
  axis.back() += m.end_offset_mm;
  return axis;
}

void add_member(Pieces& out, const std::vector<Vec3>& axis, double radius, double bore) {
  const std::size_t member = out.places.size() - 1;
  const std::vector<std::size_t>& places = out.places.back();
  double along = 0;
  for (std::size_t i = 1; i < axis.size(); ++i) {
    const Vec3 step = axis[i] - axis[i - 1];
    const double length = step.norm();
    if (!(length > frame::same_place_mm)) continue;
    const bool begins = out.first.back() == out.all.size();
    if (!begins && (out.all.back().body.to - out.all.back().body.from).normalized().dot(step / length) >
                       straight_cosine) {
      Piece& last = out.all.back();
      last.body.to = axis[i];
      last.length_mm = (last.body.to - last.body.from).norm();
      last.stops.push_back({places[i], last.length_mm});
    } else {
      out.all.push_back({member,
                         {axis[i - 1], axis[i], radius},
                         bore,
                         along,
                         length,
                         {{places[i - 1], 0}, {places[i], length}}});
    }
    along += length;
  }
  out.length_mm.push_back(along);
}

void add_trim(Pieces& out, const joints::Weld& weld, const std::size_t place) {
  const auto brace = out.member_named.find(weld.member), chord = out.member_named.find(weld.chord);
  if (brace == out.member_named.end() || chord == out.member_named.end()) return;
  const std::size_t b = brace->second, c = chord->second;
  if (out.first[b] == out.first[b + 1] || out.first[c] == out.first[c + 1]) return;
  const Piece& foot = out.all[weld.at_start ? out.first[b] : out.first[b + 1] - 1];
  for (std::size_t i = out.first[c]; i < out.first[c + 1]; ++i) {
    const Piece& wall = out.all[i];
    const auto here = [&](const Stop& s) { return s.place == place; };
    if (std::none_of(wall.stops.begin(), wall.stops.end(), here)) continue;
    const double cosine = std::abs(
        (foot.body.to - foot.body.from).normalized().dot((wall.body.to - wall.body.from).normalized()));
    const double sine = std::sqrt(1 - std::min(1.0, cosine * cosine));
    if (sine < 0.01) return;  // in line: the end itself is where the tube ends
    const double radius = wall.body.radius_mm;
    out.trims[b][weld.at_start] = {c, radius / sine, (radius + foot.body.radius_mm * cosine) / sine};
    return;
  }
}

}  // namespace

double outer_radius_mm(const frame::Section& section) {
  struct Outer {
    double operator()(const frame::RoundTube& t) const { return t.diameter_mm / 2; }
    double operator()(const frame::RectangularTube& t) const { return std::min(t.height_mm, t.width_mm) / 2; }
    double operator()(const frame::FlatOvalTube& t) const { return std::min(t.height_mm, t.width_mm) / 2; }
    double operator()(const frame::SolidBar& b) const { return b.diameter_mm / 2; }
    double operator()(const frame::PlateStrip& p) const { return std::min(p.height_mm, p.thickness_mm) / 2; }
  };
  return std::visit(Outer{}, section);
}

double bore_radius_mm(const frame::Section& section) {
  struct Wall {
    double operator()(const frame::RoundTube& t) const { return t.wall_mm; }
    double operator()(const frame::RectangularTube& t) const { return t.wall_mm; }
    double operator()(const frame::FlatOvalTube& t) const { return t.wall_mm; }
    double operator()(const frame::SolidBar& b) const { return b.diameter_mm; }
    double operator()(const frame::PlateStrip& p) const { return p.height_mm + p.thickness_mm; }
  };
  return std::max(0.0, outer_radius_mm(section) - std::visit(Wall{}, section));
}

Pieces pieces_of(const frame::Frame& frame, const std::vector<joints::Weld>& welds) {
  const Nodes nodes = nodes_of(frame);
  std::map<std::string, const frame::Tube*> tubes;
  for (const frame::Tube& t : frame.tubes) tubes.emplace(t.id, &t);
  Pieces out;
  out.first.push_back(0);
  for (const frame::Member& m : frame.members) {
    out.member_named.emplace(m.id, out.places.size());
    out.places.emplace_back();
    for (const std::string& node : m.nodes) out.places.back().push_back(nodes.place[nodes.index.at(node)]);
    const frame::Section& section = tubes.at(m.tube)->section;
    add_member(out, axis_of(frame, nodes, m), outer_radius_mm(section), bore_radius_mm(section));
    out.first.push_back(out.all.size());
  }
  out.trims.resize(frame.members.size());
  for (const joints::Weld& w : welds)
    if (const auto at = nodes.index.find(w.node); at != nodes.index.end())
      add_trim(out, w, nodes.place[at->second]);
  return out;
}

double thickness_mm(const frame::Section& section) { return frame::wall_mm(section).value_or(outer_radius_mm(section)); }

}  // namespace seamwright::shape
