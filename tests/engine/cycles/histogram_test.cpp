// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/cycles/histogram.h"

#include <limits>
#include <numeric>

#include "tests/engine/cycles/signals.h"

using namespace seamwright;
using namespace seamwright::cycles;

TEST_CASE("histogram classes hold all cycles") {
  const std::vector<Cycle> cycles{{0, 10, 1}, {2, 6, 0.5}, {-4, 4, 1}, {10, 0, 0.5}, {5, 5, 1}};
  const Histogram h = histogram(cycles, 4, 5);
  CHECK(h.range_edges == std::vector<double>{0, 2.5, 5, 7.5, 10});
  REQUIRE(h.mean_edges.size() == 6);
  CHECK(h.mean_edges.front() == 0);
  CHECK(h.mean_edges.back() == 5);
  REQUIRE(h.counts.size() == 20);
  CHECK(h.counts[3 * 5 + 4] == 1.5);  // range 10, mean 5: the upper edges belong to the last class
  CHECK(h.counts[3 * 5 + 0] == 1);    // range 8, mean 0
  CHECK(h.counts[1 * 5 + 4] == 0.5);  // range 4, mean 4 = a lower edge
  CHECK(h.counts[0 * 5 + 4] == 1);    // range 0
  CHECK(std::accumulate(h.counts.begin(), h.counts.end(), 0.0) == 4);
}

TEST_CASE("histogram of equal means and of nothing") {
  const Histogram same = histogram(std::vector<Cycle>{{-5, 5, 1}, {-1, 1, 1}}, 2, 2);
  CHECK(same.mean_edges == std::vector<double>{-5, 0, 5});
  CHECK(same.counts == std::vector<double>{0, 1, 0, 1});
  const Histogram none = histogram({}, 2, 1);
  CHECK(none.range_edges == std::vector<double>{0, 0.5, 1});
  CHECK(none.mean_edges == std::vector<double>{0, 1});
  CHECK(none.counts == std::vector<double>{0, 0});
}

TEST_CASE("histogram refuses bad classes and bad cycles") {
  const std::vector<Cycle> good{{0, 1, 1}};
  CHECK(fault_of([&] { histogram(good, 0, 1); }).id == "cycles.bad-classes");
  CHECK(fault_of([&] { histogram(good, 1, 0); }).id == "cycles.bad-classes");
  CHECK(fault_of([&] { histogram(good, 1, 4097); }).id == "cycles.bad-classes");
  CHECK(histogram(good, 4096, 1).counts.back() == 1);
  const std::vector<Cycle> bad{{0, 1, 1}, {0, std::numeric_limits<double>::quiet_NaN(), 1}};
  const Message fault = fault_of([&] { histogram(bad, 2, 2); });
  CHECK(fault.id == "cycles.not-a-number");
  CHECK(first_number(fault) == 1);
}
