// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/wheel_loads.h"

#include <limits>

#include "engine/loads/duty.h"
#include "tests/engine/frame/small_frames.h"

using namespace seamwright;
using namespace seamwright::loads;
using Catch::Matchers::WithinRel;
using frame::fault_of;

TEST_CASE("wheel loads balance weight and moments") {
  const TrikeGeometry g{150, 1250, 780, 500, 35};
  const WheelLoads w = wheel_loads(g);
  const double weight = 150 * 9.80665;
  CHECK_THAT(w.front_left_n + w.front_right_n + w.rear_n, WithinRel(weight, 1e-14));
  CHECK_THAT(w.rear_n * 1250, WithinRel(weight * 500, 1e-13));
  CHECK_THAT((w.front_left_n - w.front_right_n) * 390, WithinRel(weight * 35, 1e-12));
  CHECK(w.evidence.coverage == Coverage::inside);
}

TEST_CASE("a wheel that lifts is said") {
  const WheelLoads w = wheel_loads({150, 1250, 780, 1240, 200});
  CHECK(w.front_right_n < 0);
  CHECK(w.evidence.coverage == Coverage::none);
  CHECK(w.evidence.value == w.front_right_n);
  REQUIRE(w.evidence.notes.size() == 1);
  CHECK(w.evidence.notes[0].id == "loads.wheel-lifts");
  CHECK(wheel_loads({150, 1250, 780, 0, 0}).evidence.coverage == Coverage::inside);
  CHECK(wheel_loads({0, 1250, 780, 500, 0}).rear_n == 0);
}

TEST_CASE("impossible geometry is refused") {
  for (const double bad : {0.0, -1.0, 1e9, std::numeric_limits<double>::quiet_NaN()}) {
    CHECK(fault_of([bad] { wheel_loads({100, bad, 800, 400, 0}); }).id == "frame.bad-number");
    CHECK(fault_of([bad] { wheel_loads({100, 1300, bad, 400, 0}); }).id == "frame.bad-number");
  }
  CHECK(fault_of([] { wheel_loads({-1, 1300, 800, 400, 0}); }).id == "frame.bad-number");
  CHECK(fault_of([] {
          wheel_loads({100, 1300, 800, 400, std::numeric_limits<double>::infinity()});
        }).id == "frame.bad-number");
}

TEST_CASE("distance of a trip") {
  CHECK(distance_km(Trip{}) == 0);
  Duty duty;
  duty.trips.resize(2);
  duty.trips[0].legs.resize(2);
  duty.trips[0].legs[0].distance_km = 1.5;
  duty.trips[0].legs[1].distance_km = 2.25;
  duty.trips[0].trips_per_year = 200;
  duty.trips[1].legs.resize(1);
  duty.trips[1].legs[0].distance_km = 10;
  duty.trips[1].trips_per_year = 5;
  CHECK(distance_km(duty.trips[0]) == 3.75);
  CHECK(km_per_year(duty) == 800);
  CHECK(all_legs(duty).size() == 3);
}
