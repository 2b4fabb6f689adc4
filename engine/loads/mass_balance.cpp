// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/mass_balance.h"

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "engine/evidence/constants.h"

namespace seamwright::loads {

using frame::Vec3;

Eigen::VectorXd rigid_motion(const frame::Frame& frame, const frame::Assembly& assembly, const Vec3& move,
                             const Vec3& turn) {
  Eigen::VectorXd u = Eigen::VectorXd::Zero(assembly.full_size);
  for (const frame::Node& node : frame.nodes) {
    const auto first = 6 * static_cast<Eigen::Index>(assembly.node_index.at(node.id));
    u.segment<3>(first) = move + turn.cross(node.position_mm);
    u.segment<3>(first + 3) = turn;
  }
  auto sprung = 6 * static_cast<Eigen::Index>(frame.nodes.size());
  for (const frame::SprungMass& mass : frame.sprung_masses)
    for (const auto& direction : mass.sprung)
      u[sprung++] = direction.axis.normalized().dot(move + turn.cross(mass.position_mm));
  return u;
}

Balance balance_of(const frame::Frame& frame, const frame::Assembly& assembly) {
  const Vec3 none = Vec3::Zero();
  const Eigen::VectorXd along = assembly.mass * rigid_motion(frame, assembly, Vec3::UnitX(), none);
  const Eigen::VectorXd up = assembly.mass * rigid_motion(frame, assembly, Vec3::UnitZ(), none);
  const Eigen::VectorXd roll = rigid_motion(frame, assembly, none, Vec3::UnitX());
  const Eigen::VectorXd pitch = rigid_motion(frame, assembly, none, Vec3::UnitY());
  // Roll moves a point up by y; pitch moves it along by z and down by x.
  const double mass_t = rigid_motion(frame, assembly, Vec3::UnitZ(), none).dot(up);
  return {1000 * mass_t, {-pitch.dot(up) / mass_t, roll.dot(up) / mass_t, pitch.dot(along) / mass_t}};
}

Eigen::VectorXd rolling_motion(const frame::Frame& frame, const frame::Assembly& assembly) {
  Eigen::MatrixXd over_ground(assembly.full_size, 3);
  over_ground << rigid_motion(frame, assembly, Vec3::UnitX(), Vec3::Zero()),
      rigid_motion(frame, assembly, Vec3::UnitY(), Vec3::Zero()),
      rigid_motion(frame, assembly, Vec3::Zero(), Vec3::UnitZ() / mm_per_m);
  const Eigen::Matrix3d resisted = over_ground.transpose() * (assembly.stiffness * over_ground);
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> apart(resisted);  // ascending
  constexpr double none = 1e-9;
  if (!(apart.eigenvalues()[0] <= none * apart.eigenvalues()[2]))
    return Eigen::VectorXd::Zero(assembly.full_size);
  const Eigen::VectorXd roll = over_ground * apart.eigenvectors().col(0);
  return roll / std::sqrt(roll.dot(assembly.mass * roll));
}

Eigen::VectorXd camber_thrust(const frame::Frame& frame, const frame::Assembly& assembly,
                              const Eigen::VectorXd& wheel_loads_n) {
  Eigen::VectorXd load = Eigen::VectorXd::Zero(assembly.full_size);
  for (std::size_t i = 0; i < frame.wheels.size(); ++i) {
    const frame::Wheel& w = frame.wheels[i];
    const double inwards =
        w.camber_deg * w.camber_thrust_per_deg * wheel_loads_n[static_cast<Eigen::Index>(i)];
    const double heading = w.heading_deg * degree;
    const Vec3 force = -frame::side_of(w) * inwards * Vec3(-std::sin(heading), std::cos(heading), 0);
    const auto first = 6 * static_cast<Eigen::Index>(assembly.node_index.at(w.node));
    load.segment<3>(first) += force;
    load.segment<3>(first + 3) += frame::contact_arm_mm(w).cross(force);
  }
  return load;
}

}  // namespace seamwright::loads
