// SPDX-License-Identifier: GPL-3.0-or-later
// One state of the trike (a payload in the box, the rider on the saddle): the frame on its tyres, its static answer to weight,
// its modes, and its answer to the road height under each wheel.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "engine/frame/assembly.h"
#include "engine/frame/modes.h"
#include "engine/frame/statics.h"
#include "engine/loads/duty.h"
#include "engine/loads/road.h"

namespace seamwright::loads {

/// Where the design lets rider and payload act.
struct Carriers {
  std::string saddle_node, pedal_node;
  std::vector<std::string> bar_nodes;
  std::vector<std::string> box_nodes;   ///< nodes that carry the payload
  frame::Vec3 payload_centre_mm{0, 0, 0};
};

/// The frame with rider and payload added as masses.
frame::Frame laden(const frame::Frame& frame, const Carriers& carriers, const Rider& rider, double payload_kg);

/// Response of generalised coordinates to road heights. Coordinates: modes up to the highest frequency, then one static
/// remainder per wheel (driven by k w + c dw/dt). Full displacements = basis * coordinates.
struct State {
  double payload_kg = 0;
  frame::Assembly assembly;
  Eigen::VectorXd static_displacement;   ///< full, under 1 g on the tyres
  double static_residual = 0;            ///< relative residual of equilibrium
  double held_reaction_n = 0;            ///< reaction of the held x direction; must vanish
  Eigen::VectorXd static_wheel_load_n;   ///< per wheel
  frame::Modes modes;
  Eigen::MatrixXd basis;                 ///< full x (modes + wheels)
  std::vector<Track> tracks;             ///< per wheel
};

/// Builds the state. highest_hz bounds the modes kept; structural_damping is added to every mode.
State make_state(const frame::Frame& laden_frame, double payload_kg, double highest_hz);

/// Coordinates' transfer from road heights (m) at one frequency: (modes + wheels) x wheels, complex. damping of tyres, dampers
/// and rider is not diagonal in the modes and is kept whole.
class Transfer {
 public:
  Transfer(const State& state, double structural_damping);
  Eigen::MatrixXcd at(double frequency_hz) const;

 private:
  Eigen::VectorXd omega2_;
  Eigen::MatrixXd modal_damping_, modal_stiffness_input_, modal_damping_input_;
  Eigen::VectorXd tyre_stiffness_, tyre_damping_;
  // Full modal damping is diagonalised once: poles and residues of the modal system.
  Eigen::VectorXcd poles_;
  Eigen::MatrixXcd left_, right_;
};

/// Coordinates' histories for a leg, coordinates x samples, as one realisation; without the static part. The synthesis line
/// spacing is finer than 1/duration, so nothing repeats.
Eigen::MatrixXd leg_coordinates(const State& state, const Transfer& transfer, const Road& road, const Leg& leg,
                                double sample_rate_hz, double highest_hz, const std::string& seed);

/// Spectral moment matrices of the coordinates for a leg: M_k = integral f^k Re(Q S Q^H) df, so that any linear output row r
/// has m_k = r M_k r'. k = 0, 1, 2, 4.
struct MomentMatrices {
  Eigen::MatrixXd m0, m1, m2, m4;
};
MomentMatrices leg_moments(const State& state, const Transfer& transfer, const Road& road, const Leg& leg, double highest_hz);

/// Standard deviation of the dynamic force of each wheel (N) and of the vertical acceleration (m/s2) at a full
/// displacement row, on a leg.
struct LegLevels {
  Eigen::VectorXd wheel_force_sd_n;
  Eigen::VectorXd lift_share;      ///< Gaussian share of time in which the wheel would pull on the ground
  double seat_acceleration_rms_m_s2 = 0;  ///< at the saddle node, on the frame
};
LegLevels leg_levels(const State& state, const Transfer& transfer, const Road& road, const Leg& leg, double highest_hz,
                     const std::string& saddle_node);

}  // namespace seamwright::loads
