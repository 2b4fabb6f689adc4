// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/solid/joint_models.h"

#include <Eigen/Dense>
#include <algorithm>

#include "engine/frame/element.h"
#include "engine/solid/scaled_model.h"

namespace seamwright::solid {

namespace {

using frame::JointBody;

// Six motions of a place on a rigid body by those of another place.
Eigen::Matrix<double, 6, 6> carried(const Vec3& from, const Vec3& to) {
  Eigen::Matrix<double, 6, 6> m = Eigen::Matrix<double, 6, 6>::Identity();
  m.topRightCorner<3, 3>() = -frame::cross_matrix(to - from);
  return m;
}

const frame::Member* member_named(const frame::Frame& f, const std::string& id) {
  const auto m = std::find_if(f.members.begin(), f.members.end(), [&](const frame::Member& x) { return x.id == id; });
  return m == f.members.end() ? nullptr : &*m;
}

std::vector<double> node_distances(const frame::Frame& f, const frame::Member& m) {
  std::vector<double> at;
  Vec3 before{0, 0, 0};
  for (const std::string& id : m.nodes) {
    const auto node = std::find_if(f.nodes.begin(), f.nodes.end(), [&](const frame::Node& n) { return n.id == id; });
    at.push_back(at.empty() ? 0 : at.back() + (node->position_mm - before).norm());
    before = node->position_mm;
  }
  return at;
}

JointBody body_of(const frame::Frame& f, const ModelledJoint& j) {
  JointBody body;
  body.id = j.joint.id;
  body.nodes = j.joint.nodes;
  body.axes = j.joint.axes;
  body.stiffness = stiffness_of(j.joint.task, *j.answer);
  for (std::size_t i = 0; i < j.joint.ends.size(); ++i) {
    const Sawn& sawn = j.joint.ends[i];
    const frame::Member& m = *member_named(f, sawn.member);
    const std::vector<double> at = node_distances(f, m);
    std::size_t segment = 0;
    while (segment + 2 < at.size() && at[segment + 1] <= sawn.at_mm) ++segment;
    // Towards the member's start its beam ends here, towards its end it begins here.
    body.ends.push_back({j.joint.id + "/" + m.id + (sawn.towards_start ? "<" : ">"), m.id, segment, !sawn.towards_start});
  }
  for (const Inside& in : j.joint.inside) {
    const frame::Member& m = *member_named(f, in.member);
    const std::vector<double> at = node_distances(f, m);
    for (std::size_t k = 0; k + 1 < at.size(); ++k)
      if (at[k] >= in.from_mm - 1e-6 && at[k + 1] <= in.to_mm + 1e-6) body.within.push_back({m.id, k});
  }
  return body;
}

}  // namespace

Eigen::MatrixXd stiffness_of(const JointTask& task, const JointAnswer& answer) {
  std::vector<Vec3> places;
  for (const End& e : task.ends) places.push_back(e.at);
  for (const Seat& s : task.seats) places.push_back(s.at);
  const auto moving = static_cast<Eigen::Index>(6 * (places.size() - 1));
  Eigen::MatrixXd against(moving, moving + 6);  // motion against the held end
  against.rightCols(moving).setIdentity();
  for (std::size_t i = 1; i < places.size(); ++i)
    against.block<6, 6>(6 * static_cast<Eigen::Index>(i - 1), 0) = -carried(places[0], places[i]);
  const Eigen::MatrixXd f = (answer.flexibility + answer.flexibility.transpose()) / 2;
  const Eigen::MatrixXd k = against.transpose() * f.ldlt().solve(against);
  return (k + k.transpose()) / 2;
}

const JointAnswer* JointLibrary::find(const JointTask& task) const {
  const auto found = std::find_if(models.begin(), models.end(), [&](const auto& m) { return m.first == task; });
  return found == models.end() ? nullptr : &found->second;
}

const std::string* JointLibrary::why_failed(const JointTask& task) const {
  const auto found = std::find_if(failed.begin(), failed.end(), [&](const auto& f) { return f.first == task; });
  return found == failed.end() ? nullptr : &found->second;
}

Message failed_message(const FrameJoint& joint, const std::string& why) {
  std::string named = why;
  for (std::size_t i = joint.part_names.size(); i-- > 0;) {
    const std::string number = "#" + std::to_string(i), &name = joint.part_names[i];
    for (std::size_t at = named.find(number); at != std::string::npos; at = named.find(number, at + name.size())) named.replace(at, number.size(), name);
  }
  return {"joint.failed", {text("node", joint.id), text("why", named)}};
}

std::vector<ModelledJoint> modelled_joints(const FrameJoints& joints, const JointLibrary& library) {
  std::vector<ModelledJoint> out;
  for (const FrameJoint& j : joints.joints) {
    if (const JointAnswer* answer = library.find(j.task)) {
      out.push_back({j, answer});
      // A joint whose own model failed is not helped out by another's.
    } else if (auto like = library.scale_like && !library.why_failed(j.task) ? scaled_model(j.task, library) : std::nullopt) {
      const auto scaled = std::make_shared<const JointAnswer>(std::move(like->answer));
      out.push_back({j, scaled.get(), scaled, like->apart});
    } else {
      continue;
    }
    if (const JointTask open = with_open_roots(j.task); open != j.task) out.back().open = library.find(open);
  }
  return out;
}

frame::Frame with_bodies(const frame::Frame& plain, const std::vector<ModelledJoint>& joints) {
  frame::Frame out = plain;
  for (const ModelledJoint& j : joints) {
    JointBody body = body_of(plain, j);
    for (std::size_t i = 0; i < body.ends.size(); ++i)
      out.nodes.push_back({body.ends[i].node, j.joint.origin_mm + j.joint.axes.transpose() * j.joint.task.ends[i].at});
    out.bodies.push_back(std::move(body));
  }
  return out;
}

}  // namespace seamwright::solid
