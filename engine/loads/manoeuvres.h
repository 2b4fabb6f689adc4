// SPDX-License-Identifier: GPL-3.0-or-later
// Slow channels: cornering, braking and pedalling as static solutions on the tyres, and their histories along
// a leg.
#pragma once

#include <Eigen/Core>
#include <array>

#include "engine/loads/state.h"

namespace seamwright::loads {

/// The slow channels in their order; units m/s2 (turning left; decelerating) and N on one pedal.
inline constexpr std::array<const char*, 4> manoeuvre_names{"corner", "brake", "pedal-left", "pedal-right"};

/// Full displacements for one unit of each channel, full x 4.
/// corner: the inertia of all masses pushes to the right. brake: inertia pushes forward, the contact points
/// push back by the brake's shares; the torque enters at the axle. pedal: the force at its side, the chain's
/// pull between bottom bracket and rear axle, the drive pushing the whole forward, the saddle unloaded, the
/// bar on that side pulled up by its share, and the saddle taking the rest of the moment about the long axis.
/// Derived by statics. Throws the Faults of Statics, "frame.unknown-node", and "loads.no-rear-wheel" for
/// pedals without a wheel R.
Eigen::MatrixXd manoeuvre_solutions(const frame::Frame& laden_frame, const frame::Assembly& assembly,
                                    const Carriers& carriers, const Duty& duty);

/// Values of the channels along a leg, 4 x samples. Corners (left and right in turn) and stops stand evenly
/// along the leg, their numbers rounded up; each is a half sine over its time. Pedal forces are the positive
/// halves of a sine, left and right in turn.
Eigen::MatrixXd manoeuvre_histories(const Leg& leg, double sample_rate_hz, Eigen::Index samples);

/// Whole numbers of a leg: corners, stops, turns of the crank.
struct ManoeuvreCounts {
  double corners = 0, stops = 0, turns = 0;
};
ManoeuvreCounts manoeuvre_counts(const Leg& leg);

}  // namespace seamwright::loads
