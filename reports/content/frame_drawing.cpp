// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/frame_drawing.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>

#include "engine/design/weld_geometry.h"
#include "engine/frame/nominal.h"
#include "engine/loads/state.h"
#include "engine/rating/job.h"
#include "engine/rating/service.h"
#include "engine/shape/pieces.h"

namespace seamwright::reports {

namespace {

struct Width {
  double operator()(const frame::RoundTube& t) const { return t.diameter_mm; }
  double operator()(const frame::RectangularTube& t) const { return std::max(t.height_mm, t.width_mm); }
  double operator()(const frame::FlatOvalTube& t) const { return std::max(t.height_mm, t.width_mm); }
  double operator()(const frame::SolidBar& t) const { return t.diameter_mm; }
  double operator()(const frame::PlateStrip& t) const { return t.height_mm; }
};

double width_mm(const frame::Frame& f, const std::string& member) {
  return std::visit(Width{}, design::tube_of(f, design::member_of(f, member)).section);
}

using Index = std::map<std::string, std::size_t>;

// The flag stands where a member leaves one of its nodes, and points the way that it goes.
FrameDrawing::Flag at_node(const FrameDrawing& d, const frame::Member& member, const std::string& node,
                           const Index& index) {
  FrameDrawing::Flag flag;
  const auto it = std::find(member.nodes.begin(), member.nodes.end(), node);
  const auto next = it + 1 != member.nodes.end() ? it + 1 : it - 1;
  flag.member = member.id;
  flag.node = node;
  flag.point = index.at(node);
  flag.at_mm = d.points[flag.point].at_mm;
  flag.along = (d.points[index.at(*next)].at_mm - flag.at_mm).normalized();
  return flag;
}

void add_welds(const design::Design& design, const Index& index, FrameDrawing& d) {
  for (const joints::Weld& w : design.welds) {
    const std::string& member = w.member.empty() ? w.chord : w.member;
    FrameDrawing::Flag flag = at_node(d, design::member_of(design.frame, member), w.node, index);
    flag.id = w.id;
    flag.diameter_mm = width_mm(design.frame, member);
    // The flag stands beside the chord's axis, on its surface.
    if (!w.member.empty() && !w.chord.empty()) {
      const FrameDrawing::Flag chord = at_node(d, design::member_of(design.frame, w.chord), w.node, index);
      const double radius_mm = 0.5 * width_mm(design.frame, w.chord), cosine = chord.along.dot(flag.along);
      flag.at_mm += radius_mm * flag.along;
      // A flat angle reaches no further than the tube is wide.
      const double sine = std::max(0.3, std::sqrt(std::max(0.0, 1 - cosine * cosine)));
      flag.reach_mm = (radius_mm + 0.5 * flag.diameter_mm * std::abs(cosine)) / sine - radius_mm;
    }
    d.flags.push_back(std::move(flag));
  }
}

void add_others(const design::Design& design, const Index& index, FrameDrawing& d) {
  for (const design::Notch& n : design.notches) {
    const frame::Member& member = design::member_of(design.frame, n.member);
    double left = n.at_mm;
    std::size_t k = 0;
    const auto length = [&](std::size_t i) {
      return (d.points[index.at(member.nodes[i + 1])].at_mm - d.points[index.at(member.nodes[i])].at_mm)
          .norm();
    };
    while (k + 2 < member.nodes.size() && left > length(k)) left -= length(k++);
    FrameDrawing::Flag flag = at_node(d, member, member.nodes[k], index);
    flag.id = n.id;
    flag.at_mm += left * flag.along;
    flag.diameter_mm = width_mm(design.frame, n.member);
    d.flags.push_back(std::move(flag));
  }
  for (const design::BoltCircle& b : design.bolts) {
    const frame::Member& member = design::member_of(design.frame, b.member);
    FrameDrawing::Flag flag =
        at_node(d, member, b.at_start ? member.nodes.front() : member.nodes.back(), index);
    flag.id = b.id;
    flag.diameter_mm = width_mm(design.frame, b.member);
    d.flags.push_back(std::move(flag));
  }
}

// Stretches and elements are the same pieces of members, in the same order.
std::vector<std::array<double, 2>> stresses(const frame::Frame& f, const FrameDrawing& drawing,
                                            const loads::State& state) {
  std::vector<std::array<double, 2>> all;
  const auto& elements = state.assembly.elements;
  for (std::size_t i = 0; i < drawing.stretches.size() && i < elements.size(); ++i) {
    const frame::Section& section =
        design::tube_of(f, design::member_of(f, drawing.stretches[i].member)).section;
    all.push_back(frame::equivalent_stress_mpa(
        elements[i], section, frame::section_forces(elements[i], state.static_displacement)));
  }
  // No beam runs within a joint's body: there stands what its member carries beside it.
  const auto beside = [&](std::size_t i, std::size_t other, std::size_t end) {
    if (elements[i].within_body && !elements[other].within_body && drawing.stretches[i].member == drawing.stretches[other].member)
      all[i] = {all[other][end], all[other][end]};
  };
  for (std::size_t i = 1; i < all.size(); ++i) beside(i, i - 1, 1);
  for (std::size_t i = all.size(); i-- > 1;) beside(i - 1, i, 0);
  return all;
}

}  // namespace

FrameDrawing frame_drawing(const design::Design& design, DrawnViews views) {
  FrameDrawing d;
  d.views = std::move(views);
  Index index;
  for (const frame::Node& n : design.frame.nodes) {
    index[n.id] = d.points.size();
    d.points.push_back({n.id, n.position_mm});
  }
  for (const frame::Member& m : design.frame.members)
    for (std::size_t i = 0; i + 1 < m.nodes.size(); ++i)
      d.stretches.push_back({m.id, index.at(m.nodes[i]), index.at(m.nodes[i + 1]),
                             width_mm(design.frame, m.id), m.axial_only,
                             2 * shape::bore_radius_mm(design::tube_of(design.frame, m).section)});
  for (const frame::Wheel& w : design.frame.wheels)
    d.wheels.push_back({w.id, index.at(w.node), {0, 1, 0}, w.radius_mm});
  add_welds(design, index, d);
  add_others(design, index, d);
  if (d.points.empty()) return d;
  d.least_mm = d.most_mm = d.points[0].at_mm;
  const auto reach = [&](const frame::Vec3& p) {
    d.least_mm = d.least_mm.cwiseMin(p);
    d.most_mm = d.most_mm.cwiseMax(p);
  };
  for (const auto& p : d.points) reach(p.at_mm);
  for (const auto& w : d.wheels) {
    const frame::Vec3 rim(w.radius_mm, 0, w.radius_mm);
    reach(d.points[w.point].at_mm + rim);
    reach(d.points[w.point].at_mm - rim);
  }
  return d;
}

std::vector<FrameMotion> frame_motions(const rating::Job& job, const FrameDrawing& drawing,
                                       std::size_t most) {
  const auto legs = loads::all_legs(job.duty);
  const double payload_kg = legs.empty() ? 0 : legs[0]->pose.payload_kg;
  const loads::State state =
      loads::make_state(loads::laden_frame(rating::jointed_frame(job, rating::joints_of(job)), job.design.carriers,
                                           job.duty.rider, payload_kg),
                        payload_kg, job.duty.highest_frequency_hz);
  const auto motion = [&](const Eigen::VectorXd& full, Eigen::Index first) {
    std::vector<frame::Vec3> at;
    for (const auto& p : drawing.points) {
      const auto it = state.assembly.node_index.find(p.node);
      at.push_back(it == state.assembly.node_index.end()
                       ? frame::Vec3::Zero()
                       : frame::Vec3(full.segment<3>(static_cast<Eigen::Index>(6 * it->second) + first)));
    }
    return at;
  };
  std::vector<FrameMotion> all;
  all.push_back({{"frame.at-rest", {number("payload", payload_kg, "kg")}},
                 motion(state.static_displacement, 0),
                 false,
                 motion(state.static_displacement, 3),
                 stresses(job.design.frame, drawing, state)});
  for (Eigen::Index m = 0; m < state.modes.frequency_hz.size() && all.size() <= most; ++m) {
    std::vector<frame::Vec3> at = motion(state.modes.shapes.col(m), 0),
                             turn = motion(state.modes.shapes.col(m), 3);
    double largest = 0;
    for (const frame::Vec3& v : at) largest = std::max(largest, v.norm());
    if (largest > 0)  // a mode of masses alone keeps its number
      for (auto* moved : {&at, &turn})
        for (frame::Vec3& v : *moved) v /= largest;
    all.push_back({{"frame.mode",
                    {number("number", static_cast<double>(m + 1), ""),
                     number("frequency", state.modes.frequency_hz[m], "Hz")}},
                   std::move(at),
                   true,
                   std::move(turn),
                   {}});
  }
  return all;
}

}  // namespace seamwright::reports
