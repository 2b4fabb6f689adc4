// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/steering.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <numbers>
#include <set>

#include "engine/evidence/constants.h"
#include "engine/frame/element.h"

namespace seamwright::loads {

namespace {

using frame::Frame;
using frame::Vec3;

// Nodes that hang together with one through members that are not links.
std::set<std::string> piece_of(const Frame& f, const std::string& start) {
  std::set<std::string> piece{start};
  for (bool grew = true; grew;) {
    grew = false;
    for (const frame::Member& m : f.members) {
      if (m.axial_only) continue;
      const bool touches =
          std::any_of(m.nodes.begin(), m.nodes.end(), [&](const auto& n) { return piece.contains(n); });
      if (!touches) continue;
      for (const std::string& n : m.nodes) grew = piece.insert(n).second || grew;
    }
    for (const frame::JointBody& b : f.bodies) {
      if (std::none_of(b.nodes.begin(), b.nodes.end(), [&](const auto& n) { return piece.contains(n); })) continue;
      for (const frame::JointBody::End& e : b.ends) grew = piece.insert(e.node).second || grew;
    }
  }
  return piece;
}

std::set<std::string> front_of(const Frame& f, const frame::Hinge& hinge) {
  for (const std::string& side : {hinge.first, hinge.second}) {
    std::set<std::string> piece = piece_of(f, side);
    const auto carries = [&](const char* wheel) {
      return std::any_of(f.wheels.begin(), f.wheels.end(),
                         [&](const auto& w) { return w.id == wheel && piece.contains(w.node); });
    };
    if (carries("FL") && carries("FR") && !carries("R")) return piece;
  }
  throw Fault{Message{"loads.not-steered", {text("hinge", hinge.id)}}};
}

// The direction that a member's local y leans to, stated or by default.
Vec3 up_of(const Frame& f, const frame::Member& m) {
  if (m.up) return *m.up;
  std::array<Vec3, 2> ends;
  for (std::size_t i = 0; i < 2; ++i)
    for (const frame::Node& n : f.nodes)
      if (n.id == m.nodes[i]) ends.at(i) = n.position_mm;
  const auto axes = frame::local_axes(ends[1] - ends[0], std::nullopt);
  return axes ? Vec3(axes->row(1)) : Vec3::UnitZ();
}

}  // namespace

Frame steered_frame(const Frame& straight, const Steering& steering, double angle_deg) {
  if (angle_deg == 0) return straight;
  const auto hinge = std::find_if(straight.hinges.begin(), straight.hinges.end(),
                                  [&](const auto& h) { return h.id == steering.hinge; });
  if (hinge == straight.hinges.end())
    throw Fault{Message{"loads.no-steering", {text("hinge", steering.hinge)}}};
  if (!(angle_deg <= steering.left_deg && angle_deg >= -steering.right_deg))
    throw Fault{Message{"loads.beyond-stop",
                        {number("angle", angle_deg, "deg"), number("left", steering.left_deg, "deg"),
                         number("right", steering.right_deg, "deg")}}};
  const std::set<std::string> front = front_of(straight, *hinge);
  Vec3 pivot = Vec3::Zero();
  for (const frame::Node& n : straight.nodes)
    if (n.id == hinge->first) pivot = n.position_mm;
  const Vec3 axis = hinge->axis.normalized() * (hinge->axis.z() < 0 ? -1 : 1);
  const Eigen::Matrix3d turn = Eigen::AngleAxisd(angle_deg * degree, axis).toRotationMatrix();
  const auto moved = [&](const Vec3& p) { return Vec3(pivot + turn * (p - pivot)); };
  const auto all_front = [&](const std::vector<std::string>& nodes) {
    return std::all_of(nodes.begin(), nodes.end(), [&](const auto& n) { return front.contains(n); });
  };

  const auto turned = [&](const Eigen::Matrix<double, 6, 6>& flexibility) {
    Eigen::Matrix<double, 6, 6> both = Eigen::Matrix<double, 6, 6>::Zero();
    both.topLeftCorner<3, 3>() = both.bottomRightCorner<3, 3>() = turn;
    return Eigen::Matrix<double, 6, 6>(both * flexibility * both.transpose());
  };

  Frame f = straight;
  for (frame::Node& n : f.nodes)
    if (front.contains(n.id)) n.position_mm = moved(n.position_mm);
  for (frame::Member& m : f.members) {
    if (m.axial_only || !all_front(m.nodes)) continue;
    m.up = Vec3(turn * up_of(straight, m));
    m.start_offset_mm = turn * m.start_offset_mm;
    m.end_offset_mm = turn * m.end_offset_mm;
    m.start_flexibility = turned(m.start_flexibility);
    m.end_flexibility = turned(m.end_flexibility);
  }
  for (frame::JointBody& b : f.bodies)
    if (all_front(b.nodes)) b.axes = b.axes * turn.transpose();
  for (frame::Mass& m : f.masses)
    if (all_front(m.nodes)) m.position_mm = moved(m.position_mm);
  for (frame::Wheel& w : f.wheels)
    if (front.contains(w.node)) w.heading_deg += angle_deg;
  return f;
}

}  // namespace seamwright::loads
