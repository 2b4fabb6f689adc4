// SPDX-License-Identifier: GPL-3.0-or-later
// A recorded ride worked through: what stands in the table, the road that fits it, the damage of a stress.
#pragma once

#include <functional>

#include "engine/rating/rate.h"
#include "reports/content/ride_blocks.h"

namespace seamwright::reports {

struct RideQuestion {
  std::string file;
  files::RecordingOptions reading;
  double rate_hz = 0;   ///< to resample to; 0 = the mean rate
  std::string channel;  ///< that the road or the curve takes
  struct Road {
    std::string node;        ///< where the acceleration was measured, upwards
    double speed_kmh = 0;    ///< as ridden
    double payload_kg = -1;  ///< below 0: the heaviest of the duty
    double from_hz = 0.5;
    double to_hz = 0;     ///< 0 = 0.4 of the rate, or the duty's highest frequency
    std::string profile;  ///< file that the road's heights are for; "" = not asked for
  };
  std::optional<Road> road;
  struct Damage {
    std::string curve;
    double thickness_mm = 0;  ///< 0 = the curve's reference
    double km = 0;            ///< distance of the recording; 0 = not known
  };
  std::optional<Damage> damage;
};
struct RideAnswer {
  Ride ride;
  std::string profile;  ///< the table of heights, where it was asked for
};
/// job: the trike that was ridden; may be null without a road. Throws the readers' Faults, "ride.wrong-unit",
/// "ride.unknown-curve" (nearest), and what loads::make_state() throws.
RideAnswer ridden(const RideQuestion& question, const rating::Job* job);

}  // namespace seamwright::reports
