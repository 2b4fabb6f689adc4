// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/duty.h"

namespace seamwright::loads {

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
