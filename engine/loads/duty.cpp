// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/duty.h"

namespace seamwright::loads {

Drive in_gear(Drive drive, double sprocket_radius_mm) {
  if (sprocket_radius_mm > 0) drive.sprocket_radius_mm = sprocket_radius_mm;
  return drive;
}

double distance_km(const Trip& trip) {
  double sum = 0;
  for (const Leg& leg : trip.legs) sum += leg.distance_km;
  return sum;
}

double km_per_year(const Duty& duty) {
  double sum = 0;
  for (const Trip& trip : duty.trips) sum += trip.trips_per_year * distance_km(trip);
  return sum;
}

std::vector<const Leg*> all_legs(const Duty& duty) {
  std::vector<const Leg*> legs;
  for (const Trip& trip : duty.trips)
    for (const Leg& leg : trip.legs) legs.push_back(&leg);
  return legs;
}

}  // namespace seamwright::loads
