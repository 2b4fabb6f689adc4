// SPDX-License-Identifier: GPL-3.0-or-later
// Plausibility of the whole load side: accelerations in the box beside those measured in another cargo
// tricycle. Source: preprint doi 10.31224/4415 (Delft University, a draft, not peer reviewed when read):
// child seat in the box of a tricycle with two front wheels, vertical, weighted after ISO 2631, regression
// over speed v in m/s: 0.8067 + 0.2034 v on tarmac, 1.2956 + 0.7803 v more on brick pavers, m/s2. Tarmac is
// taken as class A, pavers as class C [our reading]. Another trike, other seats and weights: agreement within
// a factor of about two is what can be asked.

#include "tests/engine/rating/short_demo.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;

TEST_CASE("box accelerations of the demonstration trike beside measured ones") {
  SOURCE(measured,
         "Preprint doi 10.31224/4415 (draft, not peer reviewed when read): child seat in the box of another "
         "tricycle",
         "another trike, other seats and weights: a factor of about two");
  const rating::Rating r = rating::rated(rating::short_demo(), rating::Method::spectral);
  REQUIRE(r.legs.size() == 4);
  for (const rating::LegReport& leg : r.legs) {
    const double v = leg.speed_kmh / 3.6, pavers = leg.road == "brick-lane" ? 1 : 0;
    const double measured = 0.8067 + 0.2034 * v + pavers * (1.2956 + 0.7803 * v);
    INFO(leg.id << ": " << leg.box_acceleration_rms_m_s2 << " beside " << measured << " m/s2");
    CHECK(leg.box_acceleration_rms_m_s2 / measured > 0.45);
    CHECK(leg.box_acceleration_rms_m_s2 / measured < 2.2);
  }
}
