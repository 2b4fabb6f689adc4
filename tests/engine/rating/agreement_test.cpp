// SPDX-License-Identifier: GPL-3.0-or-later
#include <catch2/catch.hpp>

#include "tests/engine/rating/short_demo.h"

using namespace seamwright::rating;

TEST_CASE("counted and spectral damage agree on the worst welds", "[long]") {
  Job job = straight(one_leg());
  legs(job)[0].distance_km = 4;  // 24 minutes
  const Rating time = rated(job), spectral = rated(job, Method::spectral);
  for (std::size_t i = 0; i < 15; ++i) {
    const WeldRating& w = time.welds[i];
    INFO(w.id << " " << w.sites[0].site);
    // Dirlik beside rainflow of one realisation: a few per cent of scatter at slopes 3 to 5.
    CHECK(site(weld(spectral, w.id), w.sites[0].site).damage == Approx(w.sites[0].damage).epsilon(0.15));
  }
}
