// SPDX-License-Identifier: GPL-3.0-or-later
// The trike in one pose on its tyres, ready for static loads.
#pragma once

#include "engine/frame/statics.h"
#include "engine/loads/mass_balance.h"
#include "engine/loads/state.h"
#include "engine/loads/steering.h"

namespace seamwright::loads {

/// The frame with rider and payload, turned to the pose. Throws what laden_frame() and steered_frame() throw.
frame::Frame frame_in(const Pose& pose, const frame::Frame& frame, const Carriers& carriers,
                      const Rider& rider, const Steering& steering);

class PosedTrike {
 public:
  /// Throws the Faults of frame_in(), assemble() and Statics.
  PosedTrike(const Pose& pose, const frame::Frame& frame, const Carriers& carriers, const Rider& rider,
             const Steering& steering);
  /// The frame as frame_in() gives it. Throws the Faults of assemble() and Statics.
  explicit PosedTrike(frame::Frame posed);

  const frame::Frame& frame() const { return frame_; }
  const frame::Assembly& assembly() const { return assembly_; }
  const Balance& balance() const { return balance_; }
  /// Section forces of all elements (section_force_map) under 1 g.
  const Eigen::VectorXd& standing_forces() const { return standing_; }
  const Eigen::VectorXd& standing_displacement() const { return displacement_; }
  /// N, positive when it presses on the ground.
  Eigen::VectorXd wheel_loads(const Eigen::VectorXd& displacement) const;
  /// Displacements under loads, full x cases. What a load gives along the way that the wheels roll, no tyre
  /// resists: there the inertia of all masses is against it.
  Eigen::MatrixXd displacements(const Eigen::MatrixXd& loads) const;
  Eigen::MatrixXd section_forces(const Eigen::MatrixXd& displacements) const;

  const frame::Vec3& node_position(const std::string& node) const;  ///< Fault "frame.unknown-node"
  const frame::Wheel& wheel(const std::string& id) const;           ///< Fault "loads.no-rear-wheel"

 private:
  frame::Frame frame_;
  frame::Assembly assembly_;
  Balance balance_;
  Eigen::VectorXd rolling_;
  frame::Statics statics_;
  frame::SparseMatrix forces_;
  Eigen::VectorXd displacement_, standing_;
};

/// The load with the inertia of all masses against it, so that the trike as a whole is in balance: the moment
/// of a strike, not a weight that stays. full.
Eigen::VectorXd balanced_load(const PosedTrike& trike, const Eigen::VectorXd& load);

}  // namespace seamwright::loads
