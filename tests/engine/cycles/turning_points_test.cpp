// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/engine/cycles/signals.h"

using namespace seamwright;
using namespace seamwright::cycles;

TEST_CASE("turning points of short and flat signals") {
  CHECK(turning_points({}).empty());
  CHECK(turning_points({3}) == History{3});
  CHECK(turning_points({3, 3, 3}) == History{3});
  CHECK(turning_points({0, 7}) == History{0, 7});
  CHECK(turning_points({0, 1, 2, 7}) == History{0, 7});
  CHECK(turning_points({0, 5, 5, 5, 0, 5}) == History{0, 5, 0, 5});
  CHECK(turning_points({5, 5, 7, 7, 9, 9, 9}) == History{5, 9});
  CHECK(turning_points({9, 9, 7, 7, 8, 8, 8}) == History{9, 7, 8});
  CHECK(turning_points({-0.0, 0.0, -0.0}).size() == 1);
}

TEST_CASE("a gate takes away closed loops no larger than itself") {
  const History signal{0, 1, 0.5, 10, 9.5, 9.8, 2, 2.4, 2.1, 12, 0};
  CHECK(turning_points(signal, 0.5) == History{0, 10, 2, 12, 0});
  CHECK(turning_points(signal, 9) == History{0, 12, 0});
  CHECK(turning_points(signal, 0).size() == 11);
  // A loop of exactly the gate goes, one above it stays.
  CHECK(turning_points({0, 10, 9, 20}, 1) == History{0, 20});
  CHECK(turning_points({0, 10, 8.75, 20}, 1) == History{0, 10, 8.75, 20});
}

TEST_CASE("a gate does not eat a staircase of small steps") {
  CHECK(turning_points({0, 1, 2, 3, 4, 5, 4, 3, 2, 1, 0}, 1.5) == History{0, 5, 0});
  CHECK(turning_points({0, -1, -2, -3, -2, -1}, 1.5) == History{0, -3, -1});
}

TEST_CASE("a signal that stays within the gate has no turning point") {
  CHECK(turning_points({0, 1, 0.5, 1, 0}, 1).empty());
  CHECK(turning_points({3, 3}, 0.1).empty());
  CHECK(turning_points({}, 0.1).empty());
}

TEST_CASE("first extreme is where the signal came from and not its first sample when gated") {
  CHECK(turning_points({1, 0.5, 10}, 1) == History{0.5, 10});
  CHECK(turning_points({1, 1.5, -10}, 1) == History{1.5, -10});
}

TEST_CASE("samples that are not numbers are refused with their index over the whole stream") {
  for (const double bad : {nan_value, -nan_value, infinite, -infinite}) {
    TurningPoints turning;
    History points;
    turning.push(History(5000, 1.0), points);
    History with_fault(3000, 2.0);
    with_fault[2500] = bad;
    const Message fault = fault_of([&] { turning.push(with_fault, points); });
    CHECK(fault.id == "cycles.not-a-number");
    CHECK(first_number(fault) == 7500);
  }
  CHECK(first_number(fault_of([] { turning_points({nan_value}); })) == 0);
  CHECK(first_number(fault_of([] { turning_points({1, 2, infinite, nan_value}, 1); })) == 2);
}

TEST_CASE("samples whose ranges would overflow are refused") {
  const Message fault = fault_of([] { turning_points({0, 1, -0x1p1023}); });
  CHECK(fault.id == "cycles.too-large");
  CHECK(first_number(fault) == 2);
  const double largest = std::nextafter(0x1p1023, 0);
  CHECK(turning_points({-largest, largest, 0}) == History{-largest, largest, 0});
  CHECK(std::isfinite(Cycle{-largest, largest, 1}.range()));
  CHECK(std::isfinite(Cycle{largest, largest, 1}.mean()));
  // Subnormal swings are swings.
  const double tiny = std::numeric_limits<double>::denorm_min();
  CHECK(turning_points({0, tiny, 0}) == History{0, tiny, 0});
}

TEST_CASE("a gate must be a number from 0 on") {
  for (const double bad : {-1.0, nan_value, infinite, -infinite}) {
    CHECK(fault_of([bad] { TurningPoints turning(bad); }).id == "cycles.bad-gate");
    CHECK(fault_of([bad] { Rainflow rainflow(bad); }).id == "cycles.bad-gate");
    CHECK(fault_of([bad] { count_astm(History{1, 2}, bad); }).id == "cycles.bad-gate");
  }
}

TEST_CASE("turning points begin anew after the end") {
  TurningPoints turning;
  History first, second;
  turning.push(History{5, 1, 7}, first);
  turning.finish(first);
  turning.push(History{0, 3, 2}, second);
  turning.finish(second);
  CHECK(first == History{5, 1, 7});
  CHECK(second == History{0, 3, 2});
  History again;
  turning.finish(again);
  CHECK(again.empty());
}
