// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/design/weld_geometry.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "engine/evidence/constants.h"
#include "engine/joints/flexibility.h"

namespace seamwright::design {

namespace {

using frame::Vec3;

Vec3 position(const frame::Frame& frame, const std::string& id) {
  for (const frame::Node& node : frame.nodes)
    if (node.id == id) return node.position_mm;
  throw Fault{Message{"frame.unknown-node", {text("node", id), text("user", "weld")}}};
}

// The tangent runs from the member's start to its end, through the node.
Vec3 tangent(const FrameIndex& index, const frame::Member& member, const std::string& node) {
  const auto it = std::find(member.nodes.begin(), member.nodes.end(), node);
  const auto before = it == member.nodes.begin() ? it : it - 1;
  const auto after = it == member.nodes.end() || it + 1 == member.nodes.end() ? it : it + 1;
  return (index.position_of(*after) - index.position_of(*before)).normalized();
}

}  // namespace

Vec3 position_of(const frame::Frame& frame, const std::string& node) { return position(frame, node); }

Vec3 end_position(const frame::Frame& frame, const frame::Member& m, bool at_start) {
  const std::size_t last = m.nodes.size() - 1;
  const Vec3 end = position(frame, at_start ? m.nodes[0] : m.nodes[last]) +
                   (at_start ? m.start_offset_mm : m.end_offset_mm);
  Vec3 next = position(frame, at_start ? m.nodes[1] : m.nodes[last - 1]);
  if (last == 1) next += at_start ? m.end_offset_mm : m.start_offset_mm;
  return end + (at_start ? m.start_cut_mm : m.end_cut_mm) * (next - end).normalized();
}

Vec3 chord_direction(const frame::Frame& frame, const joints::Weld& weld) {
  return tangent(FrameIndex(frame), member_of(frame, weld.chord), weld.node);
}

double member_length_mm(const frame::Frame& frame, const frame::Member& member) {
  return FrameIndex(frame).member_length_mm(member);
}

const frame::Member& member_of(const frame::Frame& frame, const std::string& id) {
  for (const frame::Member& member : frame.members)
    if (member.id == id) return member;
  throw Fault{Message{"rating.unknown-member", {text("member", id)}}};
}

const frame::Tube& tube_of(const frame::Frame& frame, const frame::Member& member) {
  for (const frame::Tube& tube : frame.tubes)
    if (tube.id == member.tube) return tube;
  throw Fault{Message{"frame.unknown-tube", {text("tube", member.tube), text("member", member.id)}}};
}

const frame::RoundTube* round_tube(const frame::Frame& frame, const std::string& member) {
  return std::get_if<frame::RoundTube>(&tube_of(frame, member_of(frame, member)).section);
}

double thinnest_wall_mm(const frame::Frame& frame, const joints::Weld& weld) {
  double least = std::numeric_limits<double>::infinity();
  for (const std::string* id : {&weld.member, &weld.chord})
    if (!id->empty())
      if (const auto wall = frame::wall_mm(tube_of(frame, member_of(frame, *id)).section))
        least = std::min(least, *wall);
  for (const double plate : {weld.plate_mm, weld.other_wall_mm})
    if (plate > 0) least = std::min(least, plate);
  return least;
}

Seat seat_of(const frame::Frame& frame, const joints::Weld& weld) { return FrameIndex(frame).seat_of(weld); }

FrameIndex::FrameIndex(const frame::Frame& frame) : frame_(frame) {
  for (const frame::Node& node : frame.nodes) nodes_.emplace(node.id, &node);
  for (const frame::Member& member : frame.members) members_.emplace(member.id, &member);
}

const Vec3& FrameIndex::position_of(const std::string& id) const {
  const auto node = nodes_.find(id);
  if (node == nodes_.end()) throw Fault{Message{"frame.unknown-node", {text("node", id), text("user", "weld")}}};
  return node->second->position_mm;
}

const frame::Member& FrameIndex::member_of(const std::string& id) const {
  const auto member = members_.find(id);
  if (member == members_.end()) throw Fault{Message{"rating.unknown-member", {text("member", id)}}};
  return *member->second;
}

const frame::RoundTube* FrameIndex::round_tube(const std::string& member) const {
  return std::get_if<frame::RoundTube>(&tube_of(frame_, member_of(member)).section);
}

double FrameIndex::member_length_mm(const frame::Member& member) const {
  double length = 0;
  for (std::size_t i = 1; i < member.nodes.size(); ++i)
    length += (position_of(member.nodes[i]) - position_of(member.nodes[i - 1])).norm();
  return length;
}

Seat FrameIndex::seat_of(const joints::Weld& weld) const {
  Seat seat;
  const frame::Member& brace = member_of(weld.member);
  const std::string& next = weld.at_start ? brace.nodes[1] : brace.nodes[brace.nodes.size() - 2];
  seat.brace = (position_of(next) - position_of(weld.node)).normalized();
  if (weld.chord.empty()) {
    seat.crown = seat.brace.unitOrthogonal();
    seat.side = seat.brace.cross(seat.crown);
    return seat;
  }
  const frame::Member& chord = member_of(weld.chord);
  const Vec3 along = tangent(*this, chord, weld.node);
  const double cosine = std::clamp(std::abs(along.dot(seat.brace)), 0.0, 1.0);
  if (cosine > 0.999)
    throw Fault{Message{"rating.parallel-weld", {text("weld", weld.id), text("chord", weld.chord)}}};
  seat.angle_deg = std::acos(cosine) / degree;
  seat.crown = (-along + seat.brace * along.dot(seat.brace)).normalized();
  seat.side = seat.brace.cross(seat.crown);
  seat.chord_out = (seat.brace - along * along.dot(seat.brace)).normalized();
  seat.chord_length_mm = member_length_mm(chord);
  return seat;
}

namespace {

// The chord's wall gives way by this under a round brace; it is zero where no published factor fits.
Eigen::Matrix<double, 6, 6> flexibility_of(const frame::Frame& f, const joints::Weld& weld,
                                           const frame::RoundTube& chord, const Seat& seat) {
  Eigen::Matrix<double, 6, 6> c = Eigen::Matrix<double, 6, 6>::Zero();
  const frame::RoundTube* brace = round_tube(f, weld.member);
  if (!brace || brace->diameter_mm > chord.diameter_mm) return c;
  double youngs = 0;
  for (const frame::Material& m : f.materials)
    if (m.id == tube_of(f, member_of(f, weld.chord)).material) youngs = m.youngs_mpa;
  const joints::JointFlexibility wall =
      joints::joint_flexibility({chord.diameter_mm, chord.wall_mm, seat.chord_length_mm, brace->diameter_mm,
                                 brace->wall_mm, seat.angle_deg},
                                youngs);
  c.topLeftCorner<3, 3>() = wall.axial * seat.brace * seat.brace.transpose();
  c.bottomRightCorner<3, 3>() = wall.in_plane * seat.side * seat.side.transpose() +
                                wall.out_of_plane * seat.crown * seat.crown.transpose();
  return c;
}

}  // namespace

frame::Frame frame_with_cuts(const Design& design) {
  frame::Frame out = design.frame;
  const FrameIndex index(out);  // ends are cut, nothing is moved
  for (const joints::Weld& weld : design.welds) {
    if (weld.chord.empty() || weld.member.empty()) continue;
    const frame::RoundTube* chord = index.round_tube(weld.chord);
    if (!chord) continue;
    const Seat seat = index.seat_of(weld);
    const double cut = 0.5 * chord->diameter_mm / std::sin(seat.angle_deg * degree);
    frame::Member& member = out.members[static_cast<std::size_t>(&index.member_of(weld.member) - out.members.data())];
    (weld.at_start ? member.start_cut_mm : member.end_cut_mm) = cut;
    if (design.flexible_joints && weld.layout == joints::Layout::tube_on_tube)
      (weld.at_start ? member.start_flexibility : member.end_flexibility) = flexibility_of(out, weld, *chord, seat);
  }
  return out;
}

}  // namespace seamwright::design
