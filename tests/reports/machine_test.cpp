// SPDX-License-Identifier: GPL-3.0-or-later
// Readings of a machine are held against a procedure: places in a band, and heat by the same formula as
// everywhere.
#include "reports/content/machine_blocks.h"

#include <catch2/catch.hpp>

#include "engine/procedure/heat.h"

using namespace seamwright;
using namespace seamwright::reports;

TEST_CASE("a value lies inside, at the edge or outside of a band") {
  const qualification::Span band{50, 70};  // its edges are 1 wide: a twentieth
  for (const auto& [value, place] :
       {std::pair(49.9, Place::outside), std::pair(50.0, Place::edge), std::pair(50.9, Place::edge),
        std::pair(51.1, Place::inside), std::pair(68.9, Place::inside), std::pair(69.1, Place::edge),
        std::pair(70.0, Place::edge), std::pair(70.1, Place::outside)})
    CHECK(place_of(band, value) == place);
  CHECK(place_of(band, 0) == Place::unknown);
  CHECK(place_of({}, 60) == Place::unknown);
  CHECK(place_of({60, 60}, 60) == Place::inside);
}

TEST_CASE("a reading gives the heat of EN 1011-1 and cools faster on the thicker wall") {
  const files::ProcedureFile file = files::read_procedure(
      SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike/procedures/tig-branch.toml",
      *qualification::read_date("2026-11-27"));
  const Reading none = reading_of(file, 0, {});
  CHECK(none.heat == Place::unknown);
  CHECK_FALSE(none.heat_kj_mm > 0);
  const Reading r = reading_of(file, 0, {60, 10, 1.6});
  // k = 0.6 for process 141 (EN 1011-1, Table 1): 0.6 * 10 V * 60 A / 1.6 mm/s / 1000.
  CHECK(r.heat_kj_mm == Approx(0.225));
  CHECK(r.heat == Place::inside);
  // The sheet covers branches of 1.5 to 2.5 mm on 2 to 3 mm; a fillet's shape factors.
  const auto shape = procedure::shape_factors("fillet-tee");
  CHECK(r.shortest_cooling_s == Approx(procedure::cooling_time(0.225, 20, 3, shape).seconds));
  CHECK(r.longest_cooling_s == Approx(procedure::cooling_time(0.225, 20, 1.5, shape).seconds));
  CHECK(r.shortest_cooling_s < r.longest_cooling_s);
  CHECK(reading_of(file, 0, {60, 10, 1.0}).heat == Place::outside);
  CHECK_THROWS_AS(reading_of(file, 99, {}), std::out_of_range);
}
