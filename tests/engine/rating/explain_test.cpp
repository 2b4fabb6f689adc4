// SPDX-License-Identifier: GPL-3.0-or-later
// The evidence behind a damage adds up to it.
#include <catch2/catch.hpp>
#include <cmath>

#include "catalog/published/published_data.h"
#include "engine/rating/range_bins.h"
#include "tests/engine/rating/short_demo.h"

using namespace seamwright;
using namespace seamwright::rating;

namespace {

const Evidence* find(const Evidence& e, const std::string& figure) {
  if (e.figure == figure) return &e;
  for (const Evidence& b : e.because)
    if (const Evidence* found = find(b, figure)) return found;
  return nullptr;
}

double sum_of(const Evidence& e) {
  double sum = 0;
  for (const Evidence& b : e.because) sum += b.value;
  return sum;
}

}  // namespace

TEST_CASE("bins of ranges: four to an octave") {
  CHECK(RangeBins::from_mpa(0) == 1);
  CHECK(RangeBins::from_mpa(4) == 2);
  CHECK(RangeBins::from_mpa(7) == 3.5);
  for (const double range : {1.0, 1.24, 1.26, 7.9, 8.0, 99.0, 1500.0}) {
    const std::size_t i = RangeBins::bin_of(range);
    CHECK(RangeBins::from_mpa(i) <= range);
    CHECK(range < RangeBins::from_mpa(i + 1));
  }
  CHECK(RangeBins::bin_of(0) == 0);
  CHECK(RangeBins::bin_of(0.01) == 0);
  CHECK(RangeBins::bin_of(1e9) == RangeBins::size - 1);
}

TEST_CASE("channels and ranges of the governing weld add up, by both methods") {
  const Job job = straight(one_leg());
  for (const Method method : {Method::time, Method::spectral}) {
    const Rating r = rated(job, method);
    const Evidence& e = r.welds[0].sites[0].evidence;
    const Evidence* channels = find(e, "channels");
    const Evidence* ranges = find(e, "cycles-by-range");
    REQUIRE(channels);
    REQUIRE(ranges);
    CHECK(sum_of(*channels) > 95);
    CHECK(sum_of(*channels) < 100.001);
    CHECK(ranges->value > 1000);  // cycles a year
    CHECK(sum_of(*ranges) > 50);
    CHECK(sum_of(*ranges) < 100.001);
    // The whole spectrum, not the eight bins that do most: every cycle, all damage, each range once.
    double cycles = 0;
    for (const Evidence& bin : ranges->because) cycles += bin.inputs[2].value;
    CHECK(ranges->because.size() > 8);
    CHECK(cycles == Approx(ranges->value).epsilon(1e-9));
    CHECK(sum_of(*ranges) == Approx(100).epsilon(1e-9));
    const Evidence* road = find(*channels, "coordinate");
    REQUIRE(road);
    CHECK(std::abs(road->value) > 0.5);
    REQUIRE(r.welds.size() > detailed_welds);
    for (std::size_t w = 0; w < r.welds.size(); ++w)  // only where it is told in detail
      CHECK((find(r.welds[w].sites[0].evidence, "channels") != nullptr) == (w < detailed_welds));
  }
}

TEST_CASE("a named weld is opened as well") {
  const Job job = straight(one_leg());
  std::string named;
  for (const WeldRating& w : rated(job, Method::spectral).welds)
    if (!w.sites[0].curve.empty()) named = w.id;  // the best of those that are covered
  const Rating r = rate(job, published::catalog().data, Method::spectral, {}, named);
  CHECK(r.welds[detailed_welds - 1].id != named);
  CHECK(find(weld(r, named).sites[0].evidence, "cycles-by-range") != nullptr);
}
