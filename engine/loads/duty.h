// SPDX-License-Identifier: GPL-3.0-or-later
// The service: plain data. Trips of legs on roads, the rider, the payload, the years.
#pragma once

#include <string>
#include <vector>

#include "engine/frame/frame.h"

namespace seamwright::loads {

enum class Coherence { isotropic, full, none };  ///< between the two front tracks and the rear track

/// A road by its displacement spectrum: G_d(n) = G_d(n0) (n / n0)^-w, n0 = 0.1 cycles/m (ISO 8608:2016).
struct Road {
  std::string id;
  std::string road_class;  ///< "A".."H", "" when given by number
  double gd_n0_m3 = 0;     ///< m2/(cycles/m) = m3
  double waviness = 2;
  double min_cycles_m = 0.01, max_cycles_m = 10;
  Coherence coherence = Coherence::isotropic;
};

struct Leg {
  std::string id;
  std::string road;
  double distance_km = 0, speed_kmh = 0;
  double payload_kg = 0;  ///< 0 = empty box
  // Manoeuvres; 0 = none.
  double corners_per_km = 0, corner_m_s2 = 0,
         corner_s = 3;  ///< largest lateral acceleration, left and right in turn
  double stops_per_km = 0, braking_m_s2 = 0, braking_s = 2;  ///< largest deceleration
  double pedal_force_n = 0, turns_per_km = 0;  ///< largest force on one pedal; turns of the crank
};

/// Rider as masses: seated share on a sprung mass over the saddle, the rest rigid at pedals and bars.
struct Rider {
  double mass_kg = 0;
  double saddle_share = 0, pedal_share = 0, bar_share = 0;  ///< sum 1
  double vertical_frequency_hz = 0, vertical_damping = 0;
  double lateral_frequency_hz = 0, lateral_damping = 0;    ///< 0 = rides rigidly with the saddle sideways
  double fore_aft_frequency_hz = 0, fore_aft_damping = 0;  ///< 0 = rides rigidly with the saddle fore and aft
  double height_above_saddle_mm = 0;                       ///< of the seated share's centre
};

/// What turns a push on the pedal into loads on the frame.
struct Drive {
  double crank_mm = 0, pedal_offset_mm = 0;  ///< length; distance of the pedal's middle from the middle plane
  double chainring_radius_mm = 0, sprocket_radius_mm = 0;
  double chain_offset_mm = 0;  ///< of the chain from the middle plane, to the right
  double bar_pull_share = 0;   ///< of the pedal force that hands pull up at the bar of that side, 0..1
};
/// Shares of the braking force, sum 1.
struct Brakes {
  double front_left = 0, front_right = 0, rear = 0;
};

struct Trip {
  std::vector<Leg> legs;
  double trips_per_year = 0, years = 0;
};

struct Duty {
  std::string name;
  Rider rider;
  Drive drive;
  Brakes brakes;
  std::vector<Road> roads;
  Trip trip;
  double sample_rate_hz = 200;
  double highest_frequency_hz = 60;
  double structural_damping = 0;   ///< ratio, of every mode, besides tyres and rider
  std::vector<std::string> seeds;  ///< names; one whole trip is synthesised per seed
};

/// Distance of one trip, km: the sum of its legs; 0 without legs.
double distance_km(const Trip& trip);

}  // namespace seamwright::loads
