// SPDX-License-Identifier: GPL-3.0-or-later
// The throat that is said to be needed is put in and rated again.
#include "catalog/published/published_data.h"
#include "engine/study/throat_needs.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "tests/engine/rating/short_demo.h"

using namespace seamwright;
using namespace seamwright::study;
using namespace seamwright::rating;

TEST_CASE("with the throat it needs the worst root just meets the limit") {
  const Job job = straight(one_leg());
  const auto needs = throats_needed(job, published::catalog().data, {});
  REQUIRE(needs.size() > 5);
  std::size_t checked = 0;
  for (const ThroatNeed& n : needs) {
    CHECK(n.throat_mm > 0);
    if (n.at_most) CHECK(n.needed_mm == Approx(0.5 * n.throat_mm));
    if (n.at_most || std::isinf(n.needed_mm) || checked == 3) continue;
    ++checked;
    Job sized = job;
    for (joints::Weld& w : sized.design.welds)
      if (w.id == n.weld) w.throat_mm = n.needed_mm;
    double worst = 0;
    const Rating again = rated(sized, Method::spectral);
    for (const SiteRating& s : weld(again, n.weld).sites)
      if ((s.kind == "root" || s.kind == "root-shear") && !s.curve.empty()) worst = std::max(worst, s.used());
    CHECK(worst == Approx(1).epsilon(0.05));
  }
  CHECK(checked > 0);
}
