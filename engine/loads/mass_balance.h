// SPDX-License-Identifier: GPL-3.0-or-later
// Mass and centre of gravity of a frame with all that it carries, from the mass matrix.
#pragma once

#include "engine/frame/assembly.h"

namespace seamwright::loads {

/// Full displacements of a rigid motion: u = move + turn x position (turn in rad, about the origin), sprung
/// masses along with it.
Eigen::VectorXd rigid_motion(const frame::Frame& frame, const frame::Assembly& assembly,
                             const frame::Vec3& move, const frame::Vec3& turn);

struct Balance {
  double mass_kg = 0;
  frame::Vec3 centre_mm{0, 0, 0};
};
Balance balance_of(const frame::Frame& frame, const frame::Assembly& assembly);

/// The motion over the ground that no tyre resists: straight on, or along the arc to which the wheels are
/// turned; full, mass-normalised (u' M u = 1). Zero where the wheels' headings allow none.
Eigen::VectorXd rolling_motion(const frame::Frame& frame, const frame::Assembly& assembly);

/// Static side forces of cambered tyres under the given wheel loads (N), full: load times thrust per degree
/// times camber, towards the lean. How the thrust changes over bumps is left out.
Eigen::VectorXd camber_thrust(const frame::Frame& frame, const frame::Assembly& assembly,
                              const Eigen::VectorXd& wheel_loads_n);

}  // namespace seamwright::loads
