// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/posed_trike.h"

#include <Eigen/Cholesky>

namespace seamwright::loads {

using frame::Vec3;

frame::Frame frame_in(const Pose& pose, const frame::Frame& frame, const Carriers& carriers,
                      const Rider& rider, const Steering& steering) {
  Carriers shifted = carriers;
  shifted.payload_centre_mm += Vec3(pose.payload_ahead_mm, pose.payload_left_mm, 0);
  return steered_frame(laden_frame(frame, shifted, rider, pose.payload_kg), steering, pose.steering_deg);
}

PosedTrike::PosedTrike(const Pose& pose, const frame::Frame& frame, const Carriers& carriers,
                       const Rider& rider, const Steering& steering)
    : PosedTrike(frame_in(pose, frame, carriers, rider, steering)) {}

PosedTrike::PosedTrike(frame::Frame posed)
    : frame_(std::move(posed)),
      assembly_(frame::assemble(frame_, frame::Footing::tyres)),
      balance_(balance_of(frame_, assembly_)),
      rolling_(rolling_motion(frame_, assembly_)),
      statics_(assembly_),
      forces_(frame::section_force_map(assembly_)) {
  displacement_ = displacements(frame::gravity_load(assembly_));
  displacement_ += displacements(camber_thrust(frame_, assembly_, wheel_loads(displacement_)));
  standing_ = forces_ * displacement_;
}

Eigen::VectorXd PosedTrike::wheel_loads(const Eigen::VectorXd& displacement) const {
  return -assembly_.tyre_stiffness.cwiseProduct(assembly_.tyre_radial.transpose() * displacement);
}

Eigen::MatrixXd PosedTrike::displacements(const Eigen::MatrixXd& loads) const {
  return statics_.solve(loads - assembly_.mass * rolling_ * (rolling_.transpose() * loads)).displacements;
}

Eigen::MatrixXd PosedTrike::section_forces(const Eigen::MatrixXd& displacements) const {
  return forces_ * displacements;
}

const Vec3& PosedTrike::node_position(const std::string& node) const {
  const auto at = assembly_.node_index.find(node);
  if (at == assembly_.node_index.end())
    throw Fault{Message{"frame.unknown-node", {text("node", node), text("user", "rider")}}};
  return frame_.nodes[at->second].position_mm;
}

const frame::Wheel& PosedTrike::wheel(const std::string& id) const {
  for (const frame::Wheel& w : frame_.wheels)
    if (w.id == id) return w;
  throw Fault{Message{"loads.no-rear-wheel", {}}};
}

Eigen::VectorXd balanced_load(const PosedTrike& trike, const Eigen::VectorXd& load) {
  const frame::Assembly& a = trike.assembly();
  Eigen::MatrixXd rigid(a.full_size, 6);
  for (int k = 0; k < 3; ++k) {
    rigid.col(k) = rigid_motion(trike.frame(), a, Vec3::Unit(k), Vec3::Zero());
    rigid.col(k + 3) = rigid_motion(trike.frame(), a, Vec3::Zero(), Vec3::Unit(k) / 1000);
  }
  const Eigen::MatrixXd inertia = a.mass * rigid;
  const Eigen::MatrixXd mass = rigid.transpose() * inertia;
  return load - inertia * mass.ldlt().solve(rigid.transpose() * load);
}

}  // namespace seamwright::loads
