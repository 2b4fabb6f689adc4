// SPDX-License-Identifier: GPL-3.0-or-later
// The trike tips at limits found by statics on the triangle of the contact points. Rigid body on rigid tyres;
// real limits are lower.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "engine/loads/state.h"
#include "engine/loads/steering.h"

namespace seamwright::loads {

/// Contact points on the ground (x forward, y left) and the centre of gravity above it.
struct Stance {
  std::array<double, 2> front_left_mm{}, front_right_mm{}, rear_mm{};
  frame::Vec3 centre_mm{0, 0, 0};
};

/// Lateral acceleration at which the inner front wheel lifts, m/s2: g d / (h cos psi) with d the distance of
/// the centre from the line of outer front and rear contact and psi that line's angle against the vehicle's
/// axis; braking adds a tan(psi). Negative when it tips at rest. Force square to the vehicle's axis.
/// towards_left: the turn's centre lies on the left. Derived by statics; for a trike straight ahead it is g t
/// b / (2 h L).
struct TipResult {
  double acceleration_m_s2 = 0,
         tilt_deg = 0;  ///< tilt: side slope about the same line at which it tips at rest
  Evidence evidence;
};
TipResult side_tip(const Stance& stance, bool towards_left, double braking_m_s2);

/// Deceleration at which the rear wheel lifts (about the line of the front contacts), m/s2.
double forward_tip_m_s2(const Stance& stance);
/// Forward acceleration at which the front lifts (about the rear contact), m/s2.
double backward_tip_m_s2(const Stance& stance);

/// One pose.
struct StabilityCase {
  Pose pose;
  Stance stance;
  double mass_kg = 0;
  double turn_radius_mm = 0;  ///< of the centre of gravity about the turn's centre, infinite straight ahead
  TipResult left, right;      ///< turns to the left and to the right
  double forward_m_s2 = 0, backward_m_s2 = 0;
  double speed_kmh = 0;  ///< at which it tips in the turn that it is steered into, infinite straight ahead
};
/// Throws what steered_frame() and laden_frame() throw.
StabilityCase stability_case(const frame::Frame& frame, const Carriers& carriers, const Rider& rider,
                             const Steering& steering, const Pose& pose);

/// Lowest lateral acceleration at which it tips: in the turn that it is steered into, or, straight ahead,
/// either way.
double tip_threshold_m_s2(const StabilityCase& c);
/// True where tyres of a friction (of the duty's or the road's, > 0) slide before it tips.
bool slides_first(const StabilityCase& c, double friction);

struct Stability {
  std::vector<StabilityCase> cases;
  double lowest_m_s2 = 0;  ///< over all cases, in the turn that it is steered into
  std::size_t lowest = 0;  ///< which case
  bool tips_at_rest = false;
};

/// Each loading (a pose whose steering does not matter) at `angles` steering angles from stop to stop (odd,
/// at least five; one, straight ahead, without a steering). Throws what steered_frame() and
/// laden_frame() throw.
Stability stability(const frame::Frame& frame, const Carriers& carriers, const Rider& rider,
                    const Steering& steering, const std::vector<Pose>& loadings, std::size_t angles);

}  // namespace seamwright::loads
