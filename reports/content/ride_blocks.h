// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>

#include "catalog/files/recording_reader.h"
#include "engine/signal/survey.h"
#include "reports/content/blocks.h"

namespace seamwright::reports {

/// The road that fits a recording: roughness at the ridden speed, and its class.
struct RideRoad {
  std::string channel, node, road_class;
  double speed_kmh = 0, measured_rms_m_s2 = 0, gd_n0_m3 = 0, from_hz = 0, to_hz = 0;
};
/// Damage of a recorded stress at one site.
struct RideDamage {
  std::string channel, curve;
  double damage = 0, largest_mpa = 0;
  double life_km = 0;  ///< 0 = the distance is not known
};
struct Ride {
  files::Recording recording;
  signal::Survey survey;
  std::size_t skipped = 0;
  std::optional<RideRoad> road;
  std::optional<RideDamage> damage;
  std::string profile;  ///< file written, "" = none
};

/// These should be looked at before the recording is trusted, one message each.
std::vector<Message> ride_checks(const Ride& ride);

Document ride_document(const Ride& ride);

}  // namespace seamwright::reports
