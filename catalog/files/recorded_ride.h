// SPDX-License-Identifier: GPL-3.0-or-later
// A recorded ride worked through: what stands in the table, the road that fits it, the damage of a stress.
#pragma once

#include <optional>
#include <string>

#include "catalog/files/recording_reader.h"
#include "engine/measured/ride_fit.h"

namespace seamwright::files {

struct RideQuestion {
  std::string file;
  RecordingOptions reading;
  double rate_hz = 0;   ///< to resample to; 0 = the mean rate
  std::string channel;  ///< that the road or the curve takes
  std::optional<measured::RiddenAt> road;
  std::string profile;  ///< file that the road's heights are for; "" = not asked for
  struct Damage {
    std::string curve;
    double thickness_mm = 0;  ///< 0 = the curve's reference
    double km = 0;            ///< distance of the recording; 0 = not known
  };
  std::optional<Damage> damage;
};

struct Ride {
  Recording recording;
  signal::Survey survey;
  std::size_t skipped = 0;
  std::optional<measured::RiddenRoad> road;
  std::string road_class;  ///< nearest of the catalog, where there is a road
  std::optional<measured::StressDamage> damage;
  std::string channel, curve;    ///< of the damage
  std::string profile, heights;  ///< file that the heights are for, and its text, a table for a duty
};
/// job: the trike that was ridden; may be null, and then there is no road. Throws the readers' Faults,
/// "ride.wrong-unit", "ride.unknown-curve" (nearest), and what measured::ridden_road() throws.
Ride work_through(const RideQuestion& question, const rating::Job* job);

}  // namespace seamwright::files
