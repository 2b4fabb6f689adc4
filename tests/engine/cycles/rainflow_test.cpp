// SPDX-License-Identifier: GPL-3.0-or-later
#include <limits>

#include "engine/loads/random.h"
#include "tests/engine/cycles/signals.h"

using namespace seamwright;
using namespace seamwright::cycles;

namespace {

// Worked by hand from the rules of ASTM E1049-85 5.4.4 and the four-point rule.
struct Row {
  const char* name;
  History signal;
  Table astm, full;
  History residue;
  Table repeated;
};
const std::vector<Row> edge_cases{
    {"one point", {3}, {}, {}, {3}, {}},
    {"plateau only", {3, 3}, {}, {}, {3}, {}},
    {"one range", {0, 7}, {{7, 0.5}}, {}, {0, 7}, {{7, 1}}},
    {"constant amplitude", {0, 10, 0, 10, 0}, {{10, 2}}, {{10, 1}}, {0, 10, 0}, {{10, 2}}},
    {"plateau", {0, 5, 5, 5, 0, 5}, {{5, 1.5}}, {{5, 1}}, {0, 5}, {{5, 2}}},
    {"loop in a rise", {1, 6, 2, 8}, {{4, 1}, {7, 0.5}}, {{4, 1}}, {1, 8}, {{4, 1}, {7, 1}}},
    {"equal ranges",
     {0, 10, 2, 8, 2, 10, 0},
     {{6, 1}, {8, 1}, {10, 1}},
     {{6, 1}, {8, 1}},
     {0, 10, 0},
     {{6, 1}, {8, 1}, {10, 1}}},
    {"loops inside loops",
     {0, 4, 1, 3, 1, 4, 0},
     {{2, 1}, {3, 1}, {4, 1}},
     {{2, 1}, {3, 1}},
     {0, 4, 0},
     {{2, 1}, {3, 1}, {4, 1}}},
};

}  // namespace

TEST_CASE("edge cases of the three counts") {
  for (const Row& row : edge_cases) {
    INFO(row.name);
    const Counted half = count(row.signal, Residue::half);
    const Counted repeated = count(row.signal, Residue::repeated);
    CHECK(table(count_astm(row.signal)) == row.astm);
    CHECK(table(half.closed) == row.full);
    CHECK(half.residue == row.residue);
    CHECK(repeated.residue == row.residue);
    CHECK(table(half.all) == row.astm);
    CHECK(table(repeated.all) == row.repeated);
  }
}

TEST_CASE("no signal has no cycles") {
  for (const Residue residue : {Residue::half, Residue::repeated}) {
    const Counted nothing = count({}, residue);
    CHECK(nothing.all.empty());
    CHECK(nothing.residue.empty());
  }
  CHECK(count_astm({}).empty());
  CHECK(close_repeated({}).empty());
}

TEST_CASE("a gate acts before counting") {
  const History signal{0, 1, 0.5, 10, 9.5, 9.8, 2, 2.4, 2.1, 12, 0};
  CHECK(table(count(signal, Residue::half, 0.5).all) == Table{{8, 1}, {12, 1}});
  CHECK(table(count(signal, Residue::half, 9).all) == Table{{12, 1}});
  CHECK(table(count_astm(signal, 0.5)) == Table{{8, 1}, {12, 1}});
  CHECK(table(count(signal, Residue::repeated, 100).all).empty());
}

TEST_CASE("points at the joint that stop being reversals drop out") {
  CHECK(table(close_repeated(History{0, 10, -2})) == Table{{12, 1}});
  CHECK(table(close_repeated(History{5, 10, 0, 5.2})) == Table{{10, 1}, {5.2 - 5.0, 1}});
  CHECK(table(close_repeated(History{5, 10, 0, 5.2}, 0.5)) == Table{{10, 1}});
  CHECK(table(close_repeated(History{0, 10, 0})) == Table{{10, 1}});
}

TEST_CASE("a cycle keeps its direction and its mean") {
  const Counted rising = count({0, 10, 2, 12}, Residue::half);
  REQUIRE(rising.closed.size() == 1);
  CHECK(rising.closed[0].from == 10);
  CHECK(rising.closed[0].to == 2);
  CHECK(rising.closed[0].mean() == 6);
  CHECK(rising.closed[0].count == 1);
  REQUIRE(rising.all.size() == 2);
  CHECK(rising.all[1].from == 0);
  CHECK(rising.all[1].to == 12);
  CHECK(rising.all[1].count == 0.5);
}

TEST_CASE("a sink sees each cycle as it closes") {
  Rainflow rainflow;
  int closed = 0;
  double ranges = 0;
  const auto sink = [&](const Cycle& cycle) {
    ++closed;
    ranges += cycle.count * cycle.range();
  };
  rainflow.push(History{0, 10, 2, 12}, sink);
  CHECK(closed == 0);  // 12 is not settled yet
  rainflow.push(History{11}, sink);
  CHECK(closed == 1);
  CHECK(ranges == 8);
  rainflow.finish(Residue::half, sink);
  CHECK(closed == 3);
  CHECK(ranges == 8 + 6 + 0.5);
}

TEST_CASE("the end of a signal is final and the next push begins another") {
  Rainflow rainflow;
  std::vector<Cycle> first, second, none;
  rainflow.push(History{0, 7}, first);
  rainflow.finish(Residue::half, first);
  CHECK(rainflow.residue() == History{0, 7});
  rainflow.push(History{100, 90}, second);
  rainflow.finish(Residue::half, second);
  CHECK(table(second) == Table{{10, 0.5}});
  CHECK(rainflow.residue() == History{100, 90});
  rainflow.finish(Residue::half, none);
  CHECK(none.empty());
}

TEST_CASE("faults reach the caller of the counts") {
  const History bad{0, 1, std::numeric_limits<double>::quiet_NaN()};
  std::vector<Cycle> closed;
  CHECK(fault_of([&] { Rainflow().push(bad, closed); }).id == "cycles.not-a-number");
  CHECK(fault_of([&] { count_astm(bad); }).id == "cycles.not-a-number");
  CHECK(first_number(fault_of([&] { close_repeated(bad); })) == 2);
}

TEST_CASE("memory stays bounded for a long random signal") {
  loads::NamedRandom random("bounded");
  Rainflow rainflow;
  double count = 0;
  std::size_t deepest = 0;
  History chunk(1000);
  for (int i = 0; i < 1000; ++i) {
    for (double& sample : chunk) sample = random.normal();
    rainflow.push(chunk, [&count](const Cycle& cycle) { count += cycle.count; });
    deepest = std::max(deepest, rainflow.residue().size());
  }
  CHECK(deepest < 200);
  // White noise turns at two of three samples, so it has a cycle for every third.
  CHECK(count == Approx(1e6 / 3).epsilon(0.01));
}

TEST_CASE("a spiral that grows and then shrinks is all residue") {
  History spiral;
  for (int i = 1; i <= 3000; ++i) spiral.push_back(i % 2 == 0 ? i : -i);
  for (int i = 2999; i >= 1; --i) spiral.push_back(i % 2 == 0 ? i : -i);
  const Counted counted = count(spiral, Residue::half);
  CHECK(counted.closed.empty());
  CHECK(counted.residue == spiral);
  // Repeated, every swing of the shrinking half pairs with one of the growing half.
  CHECK(sum_of_powers(count(spiral, Residue::repeated).all, 0) == 2999);
}
