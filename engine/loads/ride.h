// SPDX-License-Identifier: GPL-3.0-or-later
// Riding over ground in time, with wheels that leave it: the shapes of a state driven by tyre forces that can
// only push.
#pragma once

#include "engine/loads/ground.h"
#include "engine/loads/state.h"

namespace seamwright::loads {

/// A ride gives this. Full displacements about the static state are the state's shapes times coordinates.
struct Ride {
  Eigen::MatrixXd coordinates;      ///< coordinates x samples, every `every`-th of the ground
  Eigen::VectorXd lift_share;       ///< per wheel: share of time off the ground
  Eigen::VectorXd largest_force_n;  ///< per wheel: tyre force upwards
};

/// Starts at rest on level ground. Tyre force k (h - u) + c d(h - u)/dt beyond the static load, never below
/// 0 in all; where the ground's slope is not nil it also pushes back along the
/// wheel's heading, force times slope, at the hub (the force of an edge on a rigid wheel goes through the
/// hub). Exact integration for forces that run straight between samples; tyres are solved for at
/// each sample. Throws Fault "loads.defective" when the damped coordinates cannot be told apart even with a
/// little more damping.
Ride ride(const State& state, double structural_damping, const Ground& ground, Eigen::Index every);
/// The same with the state's answer at this damping at hand.
Ride ride(const State& state, const Transfer& transfer, double structural_damping, const Ground& ground,
          Eigen::Index every);

/// Time after which the slowest motion of the body and frame has died away to a hundredth, s; at most 6.
double settling_s(const Transfer& transfer);

}  // namespace seamwright::loads
