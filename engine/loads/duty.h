// SPDX-License-Identifier: GPL-3.0-or-later
// The service: plain data. Trips of legs on roads, the rider, the payload, the years.
#pragma once

#include <string>
#include <vector>

namespace seamwright::loads {

enum class Coherence { isotropic, full, fitted, none };  ///< between the two front tracks and the rear track

/// A fit to pairs of measured tracks, (1 + (W B^reach / knee)^w)^-power at W = 2 pi n rad/m, w the road's waviness and B in m. A reach
/// beyond 2 / w would be no surface at all and counts as 2 / w.
struct CoherenceFit {
  double knee_rad_m = 0, power = 0, reach = 1;  ///< 0 = no fit is known
  bool operator==(const CoherenceFit&) const = default;
};

/// A road by its displacement spectrum: G_d(n) = G_d(n0) (n / n0)^-w, n0 = 0.1 cycles/m (ISO 8608:2016).
struct Road {
  std::string id;
  std::string road_class;  ///< "A".."H", "" when given by number or as a surface
  double gd_n0_m3 = 0;     ///< m2/(cycles/m) = m3
  double waviness = 2;
  double min_cycles_m = 0.01, max_cycles_m = 10;
  Coherence coherence = Coherence::isotropic;
  CoherenceFit fit;  ///< for Coherence::fitted
  /// Setts and bricks: a sine of this amplitude and wave length besides the spectrum, each track in its own
  /// phase. 0 = none.
  double pitch_amplitude_mm = 0, pitch_mm = 0;
  /// A recorded profile in place of the spectrum: heights at equal steps, left and right track; ridden over
  /// and over, every second time backwards, so that its ends meet. Empty = none.
  double profile_step_m = 0;
  std::vector<double> profile_left_m, profile_right_m;
  double profile_from_m = 0;  ///< where a ride along it begins
  bool operator==(const Road&) const = default;
};

/// The trike stands so: what is in the box, where its centre lies against the design's, how far the front is
/// turned (positive to the left).
struct Pose {
  double payload_kg = 0;  ///< 0 = empty box
  double payload_ahead_mm = 0, payload_left_mm = 0;
  double steering_deg = 0;
  auto operator<=>(const Pose&) const = default;
};

/// A manoeuvre or an obstacle of the duty comes so often.
struct Rate {
  std::string id;
  double per_km = 0;
};

struct Leg {
  std::string id;
  std::string road;
  double distance_km = 0, speed_kmh = 0;
  Pose pose;
  double cross_fall_percent = 0;               ///< the road falls to the right; negative to the left
  double pedal_force_n = 0, turns_per_km = 0;  ///< largest force on one pedal; turns of the crank
  double sprocket_radius_mm = 0;               ///< of the gear it is ridden in; 0 = the drive's
  std::vector<Rate> rates;
};

/// Shares of the braking force, sum 1.
struct Brakes {
  double front_left = 0, front_right = 0, rear = 0;
};

enum class Side { both, left, right };
struct Act;
/// The acts: acts.h has their table.
namespace act {
extern const Act corner;    ///< lateral acceleration, m/s2; both sides: left and right in turn
extern const Act brake;     ///< deceleration, m/s2
extern const Act start;     ///< force on one pedal, N, in turn left and right, with the motor's torque
extern const Act sit_down;  ///< force on the saddle beyond the rider's weight, N
extern const Act bars;      ///< one grip pulled up, the other pushed down, N, in turn
}  // namespace act

/// The rider does this now and then: a half sine of a static load on top of the road.
struct Manoeuvre {
  std::string id;
  const Act* act = &act::corner;
  double level = 0;               ///< in the unit of the act
  double seconds = 1;             ///< length of the half sine
  double steering_deg = 0;        ///< corner: towards its side; else positive to the left
  Side side = Side::both;         ///< corner, start, bars
  Brakes brakes;                  ///< brake
  double motor_n_m = 0;           ///< start: at the rear wheel (hub motor) or at the crank (mid motor)
  double sprocket_radius_mm = 0;  ///< start: of its gear; 0 = the drive's
};

enum class Shape { kerb_up, kerb_down, pothole, round_hump, sine_hump, flat_hump, bar };

/// The wheels meet this now and then; it is ridden over on a level road from rest to rest.
struct Obstacle {
  std::string id;
  Shape shape = Shape::kerb_up;
  double height_mm = 0;      ///< depth of a pothole
  double length_mm = 0;      ///< along the way; flat hump: of its plateau
  double ramp_mm = 0;        ///< flat hump: each ramp
  Side wheels = Side::both;  ///< one side: only that front wheel meets it
  double speed_kmh = 0;      ///< 0 = the leg's
  double steering_deg = 0;
  bool operator==(const Obstacle&) const = default;
};

/// Rider as masses: seated share on a sprung mass over the saddle, the rest rigid at pedals and bars.
struct Rider {
  double mass_kg = 0;
  double saddle_share = 0, pedal_share = 0, bar_share = 0;  ///< sum 1
  double vertical_frequency_hz = 0, vertical_damping = 0;
  double lateral_frequency_hz = 0, lateral_damping = 0;    ///< 0 = rides rigidly with the saddle sideways
  double fore_aft_frequency_hz = 0, fore_aft_damping = 0;  ///< 0 = rides rigidly with the saddle fore and aft
  double height_above_saddle_mm = 0;                       ///< of the seated share's centre
  bool operator==(const Rider&) const = default;
};

enum class Motor { none, hub, mid };

/// The drive turns a push on the pedal into loads on the frame: the chain pulls force times crank over
/// chainring, the wheel pushes that times sprocket over its radius.
struct Drive {
  double crank_mm = 0, pedal_offset_mm = 0;  ///< length; distance of the pedal's middle from the middle plane
  double chainring_radius_mm = 0, sprocket_radius_mm = 0;
  double chain_offset_mm = 0;  ///< of the chain from the middle plane, to the right
  double bar_pull_share = 0;   ///< of the pedal force that hands pull up at the bar of that side, 0..1
  Motor motor = Motor::none;
};
/// The drive in another gear; radius 0 leaves it.
Drive in_gear(Drive drive, double sprocket_radius_mm);
/// One kind of trip: its legs in their order.
struct Trip {
  std::string id;
  std::vector<Leg> legs;
  double trips_per_year = 0;
};

/// The static peak cases take these. Every value is an assumption that the duty states or leaves to a listed
/// default; cases without their nodes are left out.
struct Peaks {
  double shock_factor = 3, kerb_mm = 60;  ///< strike of both front wheels on a kerb
  double side_factor = 1;                 ///< side force over wheel load
  double drop_mm = 100;
  double friction = 0.7;
  double fall_factor = 2;
  double climber_kg = 100;
  double slope_percent = 16;
  std::vector<std::string> lash_nodes, lift_nodes, belt_nodes;
  std::string tow_node;
  double lash_n = 2000, lift_factor = 2, belt_n = 2000, tow_n = 1000;
  bool operator==(const Peaks&) const = default;
};

struct Duty {
  std::string name;
  Rider rider;
  Drive drive;
  std::vector<Road> roads;
  std::vector<Manoeuvre> manoeuvres;
  std::vector<Obstacle> obstacles;
  Peaks peaks;
  std::vector<Trip> trips;
  double years = 0;
  double sample_rate_hz = 200;
  double highest_frequency_hz = 60;
  double structural_damping = 0;   ///< ratio, of every mode, besides tyres and rider
  double lift_share_limit = 0.01;  ///< a wheel off the ground more often: the leg is ridden in time steps
  std::vector<std::string> seeds;  ///< names of a batch; one whole trip is synthesised per seed
  std::size_t most_batches = 1;    ///< batches are repeated, each with its own roads, until ...
  double confidence = 0;           ///< ... the governing damage is known to within this share, at 95 %
};

/// Distance of one trip, km: the sum of its legs; 0 without legs.
double distance_km(const Trip& trip);
double km_per_year(const Duty& duty);

/// All legs of all kinds of trips, in their order.
std::vector<const Leg*> all_legs(const Duty& duty);

}  // namespace seamwright::loads
