// SPDX-License-Identifier: GPL-3.0-or-later
// A recorded ride made of use to a rating: the road that shakes the trike so, the damage of a stress.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "engine/fatigue/curve.h"
#include "engine/signal/survey.h"

namespace seamwright::rating {
struct Job;
}

namespace seamwright::measured {

/// An acceleration was recorded here and so.
struct RiddenAt {
  std::string node;        ///< where it was measured, upwards
  double speed_kmh = 0;    ///< as ridden
  double payload_kg = -1;  ///< below 0: the heaviest of the duty
  double from_hz = 0.5;
  double to_hz = 0;  ///< 0 = 0.4 of the rate, or the duty's highest frequency
};
/// The road that fits a recording: roughness at the ridden speed, and the band in which it was sought.
struct RiddenRoad {
  std::string node;
  double speed_kmh = 0, measured_rms_m_s2 = 0, gd_n0_m3 = 0, from_hz = 0, to_hz = 0;
};
/// The channel's spectrum times `to_m_s2` is in m/s2; rate_hz: of its grid. Throws what loads::make_state()
/// and loads::equivalent_roughness_m3() throw.
RiddenRoad ridden_road(const rating::Job& job, const RiddenAt& at, const signal::ChannelSurvey& channel,
                       double rate_hz, double to_m_s2);
/// Heights in m, at steps of speed over rate, that shake the node as recorded, in the band of the road found.
/// Acceleration in m/s2, upwards. Throws what loads::profile_from_acceleration() throws.
std::vector<double> ridden_profile(const rating::Job& job, const RiddenAt& at, const RiddenRoad& road,
                                   double rate_hz, std::span<const double> acceleration_m_s2);

/// Damage of a recorded stress at one site, its residue repeated.
struct StressDamage {
  double damage = 0, largest_mpa = 0;  ///< largest range
  double life_km = 0;                  ///< 0 = the distance is not known
};
/// thickness 0 = the curve's reference; km: distance of the recording, 0 = not known.
StressDamage stress_damage(const fatigue::Curve& curve, double thickness_mm,
                           std::span<const double> stress_mpa, double km);

}  // namespace seamwright::measured
