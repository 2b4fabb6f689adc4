// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/duty.h"

namespace seamwright::loads {

double distance_km(const Trip& trip) {
  double sum = 0;
  for (const Leg& leg : trip.legs) sum += leg.distance_km;
  return sum;
}

}  // namespace seamwright::loads
