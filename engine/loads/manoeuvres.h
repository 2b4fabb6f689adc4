// SPDX-License-Identifier: GPL-3.0-or-later
// The rider's acts are static loads on the trike on its tyres. Derived by statics; how the rider's body
// shares a force between saddle, feet and hands is an assumption that the duty states.
#pragma once

#include "engine/loads/posed_trike.h"

namespace seamwright::loads {

/// The rider's body answers a force on one pedal, N, all upwards on the frame: hands pull their share at the
/// bar of that side; the saddle unloads, down to nothing; then the other foot, down to nothing; then both
/// hands pull.
struct PedalReaction {
  double near_hand = 0, saddle = 0, other_foot = 0, both_hands = 0;
};
PedalReaction pedal_reaction(double force_n, const Rider& rider, const Drive& drive);

/// Unit direction of the chain's upper run from chainring to sprocket: the outer tangent of both circles, in
/// the plane of the rear wheel. Throws Fault "loads.chain" (bracket on the axle).
frame::Vec3 chain_direction(const frame::Vec3& bracket_mm, const frame::Vec3& axle_mm, const Drive& drive);

/// These loads act on top of standing, full: N, N mm. side: +1 left, -1 right.
/// corner: inertia of all masses pushes outwards, m/s2. brake: inertia pushes forward, the contact points
/// push back by the brakes' shares along the wheels' headings; the torque enters at the wheel's torque node,
/// or at the axle. pedal: force, chain along the circles' upper tangent, drive, reactions; motor_n_m at the
/// rear wheel or the crank. sit_down: force on the saddle. bars: that side's grip up, the other down, the
/// saddle taking the moment.
/// Throws Fault "frame.unknown-node", "loads.no-rear-wheel", "loads.torque-node" (on the axle's line),
/// "loads.chain" (bracket on the axle).
Eigen::VectorXd corner_load(const PosedTrike& trike, double to_left_m_s2);
Eigen::VectorXd brake_load(const PosedTrike& trike, const Brakes& brakes, double m_s2);
Eigen::VectorXd pedal_load(const PosedTrike& trike, const Carriers& carriers, const Rider& rider,
                           const Drive& drive, double side, double force_n, double motor_n_m);
Eigen::VectorXd saddle_load(const PosedTrike& trike, const Carriers& carriers, double force_n);
Eigen::VectorXd bars_load(const PosedTrike& trike, const Carriers& carriers, double side, double force_n);

}  // namespace seamwright::loads
