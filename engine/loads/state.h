// SPDX-License-Identifier: GPL-3.0-or-later
// One state of the trike (a payload in the box, the rider on the saddle): the frame on its tyres, its static
// answer to weight, its modes, its answer to the road height under each wheel, and what a leg does to it.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "engine/frame/assembly.h"
#include "engine/frame/modes.h"
#include "engine/frame/statics.h"
#include "engine/loads/basis.h"
#include "engine/loads/carriers.h"
#include "engine/loads/duty.h"
#include "engine/loads/road.h"

namespace seamwright::loads {

/// The frame with rider and payload added as masses: the saddle's share on a spring and damper, upright and
/// (with a lateral frequency) sideways, its centre above the saddle; the pedals' and the bars' shares rigid,
/// the bars' split equally over their nodes; the payload as a point mass over the box. Shares of 0 and a
/// payload of 0 add nothing. Throws Fault "frame.unknown-node", "frame.bad-number", "loads.rider-shares"
/// (they must sum to 1 within 1e-6), "loads.no-carrier" (a bar share without bar nodes, a payload without box
/// nodes).
frame::Frame laden_frame(const frame::Frame& frame, const Carriers& carriers, const Rider& rider,
                         double payload_kg);

/// Full displacements = moving.shapes * coordinates (mm sqrt(t)): modes, then the remainders, which make the
/// static answer to every force on the trike exact: tyres, pushes of edges and each damper, also those
/// between rider and saddle.
struct State {
  double payload_kg = 0;
  frame::Assembly assembly;
  Eigen::VectorXd static_displacement;  ///< full, under 1 g on the tyres
  double static_residual = 0;           ///< relative residual of equilibrium
  double held_reaction_n = 0;           ///< reaction of the held x direction; must vanish
  Eigen::VectorXd static_wheel_load_n;  ///< per wheel, positive when it presses on the ground
  frame::Modes modes;                   ///< up to the highest frequency, without the free roll along x
  Shapes moving;                        ///< modes up to half as much again, then the remainders
  Eigen::MatrixXd pushes;     ///< full x wheels: unit forces forward along each wheel's heading at its hub
  std::vector<Track> tracks;  ///< per wheel
};

/// Builds the state. highest_hz bounds the modes kept, 1..1000 Hz. Throws the Faults of assemble(), Statics
/// and modes(), and "loads.free-motion" when a motion besides the roll along x has no stiffness.
State make_state(const frame::Frame& laden_frame, double payload_kg, double highest_hz);

/// The state with its lowest modes alone, the rest of the answer as remainders without inertia: with the
/// modes of the body on its tyres, the quasi-static answer.
State with_lowest_modes(const State& state, Eigen::Index modes);
/// Motions of the trike as rigid parts on tyres and rider's springs: six, one per hinge, one per spring of
/// the rider, less the roll along x.
Eigen::Index rigid_motions(const State& state);

/// (-w^2 + i w D + Omega^2) q = Phi' B (k + i w c) h with D = Phi' C Phi + diag(2 zeta Omega): the damping of
/// tyres, dampers and rider couples the shapes and is kept whole. The structural ratio acts on the shapes'
/// absolute motion. Road heights h in m.
class Transfer {
 public:
  /// structural_damping: ratio added to every mode, 0..0.5 (Fault "frame.bad-number").
  Transfer(const State& state, double structural_damping);

  /// Coordinates per metre of road height at one frequency: coordinates x wheels.
  Eigen::MatrixXcd response_at(double frequency_hz) const;
  /// The same by solving the equations directly, to check response_at().
  Eigen::MatrixXcd direct_response_at(double frequency_hz) const;

  /// Real and imaginary parts of the coordinates' amplitudes, coordinates x lines, for heights (wheels x
  /// lines, m) of lines at the given frequencies (Hz, >= 0, not checked).
  struct Lines {
    Eigen::MatrixXd real, imaginary;
  };
  Lines respond(const Eigen::Ref<const Eigen::MatrixXcd>& heights_m,
                const Eigen::VectorXd& frequency_hz) const;

  /// Poles of the damped coordinates, rad/s, imaginary part >= 0.
  const Eigen::VectorXcd& poles() const { return poles_; }
  Eigen::Index coordinates() const { return omega_.size(); }
  /// False when the damped coordinates cannot be told apart numerically (a defective system) and every
  /// frequency is solved directly.
  bool by_poles() const { return by_poles_; }
  /// Coordinates q = sum over poles of 2 Re(left_p z_p), dz_p/dt = pole_p z_p + right_p . (forces at the
  /// contacts, the state's pushes); N. Needs by_poles().
  struct Poles {
    Eigen::VectorXcd pole;
    Eigen::MatrixXcd left;   ///< coordinates x poles
    Eigen::MatrixXcd right;  ///< poles x (wheels + pushes)
  };
  Poles pole_form(const State& state) const;

 private:
  void diagonalise();
  bool poles_are_right() const;
  void respond_by_poles(const Eigen::ArrayXd& w, const Eigen::MatrixXd& force_re,
                        const Eigen::MatrixXd& force_im, Lines& out) const;

  Eigen::VectorXd omega_;           ///< rad/s
  Eigen::MatrixXd damping_;         ///< coordinates x coordinates
  Eigen::MatrixXd contact_;         ///< Phi' B, coordinates x wheels
  Eigen::VectorXd tyre_stiffness_;  ///< N per metre of road height
  Eigen::VectorXd tyre_damping_;    ///< N s per metre
  bool by_poles_ = true;
  // Partial fractions: q = sum over poles of (left right' / (i w - pole) + its conjugate partner), real poles
  // without.
  Eigen::VectorXcd poles_;
  Eigen::MatrixXd left_;                          ///< coordinates x 2 poles: real parts, then imaginary parts
  Eigen::MatrixXd right_real_, right_imaginary_;  ///< poles x wheels
  Eigen::MatrixXcd inputs_;  ///< poles x coordinates: the poles' share of a force on each
};

/// Number of samples of a leg at the rate, at least 1. Throws Fault "frame.bad-number" for a distance outside
/// 0..1e5 km, a speed outside 0.1..200 km/h or a rate outside 1..1e5 Hz, and "loads.leg-too-long" above 2e8
/// samples.
Eigen::Index leg_samples(const Leg& leg, double sample_rate_hz);

/// Coordinates' histories for a leg, coordinates x samples, as one realisation; without the static part. The
/// synthesis line spacing is no wider than 1/duration, so nothing repeats. The seed's and the leg's name fix
/// every number. Frequencies up to highest_hz, the end of the road's band and half the rate. Throws what
/// leg_samples() and check_road() throw, and "loads.leg-too-long" above 5e8 values (4 GB).
Eigen::MatrixXd leg_coordinates(const State& state, const Transfer& transfer, const Road& road,
                                const Leg& leg, double sample_rate_hz, double highest_hz,
                                const std::string& seed);

/// The road's lines under the wheels in columns, and the coordinates' answers: what moments and levels
/// integrate. A column's height times sqrt(weight) is one independent line.
struct Spectra {
  Eigen::VectorXd frequency_hz, weight_hz;  ///< per column
  Eigen::MatrixXcd heights_m;               ///< wheels x columns
  Transfer::Lines answer;
};
/// fineness divides every panel of the frequency grid (1 = as used, 0.1..100).
Spectra leg_spectra(const State& state, const Transfer& transfer, const Road& road, const Leg& leg,
                    double highest_hz, double fineness = 1);

/// Spectral moment matrices of the coordinates for a leg: M_k = integral f^k Re(Q conj(S) Q^H) df, so that
/// any linear output row r has m_k = r M_k r' (unit2 Hz^k). k = 0, 1, 2, 4.
struct MomentMatrices {
  Eigen::MatrixXd m0, m1, m2, m4;
};
MomentMatrices moments_of(const Spectra& spectra);
MomentMatrices leg_moments(const State& state, const Transfer& transfer, const Road& road, const Leg& leg,
                           double highest_hz, double fineness = 1);

/// Frequencies and weights of a quadrature over the band that holds a leg's response: three-point
/// Gauss-Legendre panels, no wider than 0.25 Hz, a third of the frequency, an eighth of the wheelbase's phase
/// period, and, near a pole, its half-width or half the distance to it.
struct Quadrature {
  Eigen::VectorXd frequency_hz, weight_hz;
};
Quadrature leg_quadrature(const State& state, const Transfer& transfer, const Road& road, const Leg& leg,
                          double highest_hz, double fineness = 1);

/// Gaussian levels of a leg about the static state.
struct LegLevels {
  Eigen::VectorXd wheel_force_sd_n;       ///< standard deviation of each wheel's dynamic force
  Eigen::VectorXd lift_share;             ///< share of time in which the wheel would pull on the ground
  double seat_acceleration_rms_m_s2 = 0;  ///< vertical, at the saddle node, on the frame, unweighted
};
/// Throws Fault "frame.unknown-node" for the saddle node.
LegLevels levels_of(const State& state, const Spectra& spectra, const std::string& saddle_node);
LegLevels leg_levels(const State& state, const Transfer& transfer, const Road& road, const Leg& leg,
                     double highest_hz, const std::string& saddle_node);

}  // namespace seamwright::loads
