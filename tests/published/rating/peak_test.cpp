// SPDX-License-Identifier: GPL-3.0-or-later
// Peak cases against handbook figures: fall onto a spring (energy), climbing of an edge (geometry), and the
// balance of every case.
#include "catalog/published/published_data.h"
#include "engine/loads/peak_cases.h"

#include <cmath>

#include "engine/loads/tyre.h"
#include "engine/strength/peak_rating.h"
#include "tests/engine/rating/short_demo.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using seamwright::outside::Expected;

TEST_CASE("drop and climb factors") {
  SOURCE(closed_form, "Energy of a fall onto a spring; geometry of a wheel at an edge",
         "digits of the evaluation");
  // 30 mm onto a tyre of 100 N/mm under 641.2 N: 1 + sqrt(1 + 2*30/6.412) = 4.2183.
  CHECK(loads::drop_factor(30, 6.412) == Expected(4.2183).epsilon(1e-4));
  // Wheel radius 253.5 mm: computed from the circle, independently.
  CHECK(loads::climb_ratio(30, 253.5) == Expected(0.53523).epsilon(1e-4));
  CHECK(loads::climb_ratio(60, 253.5) == Expected(0.84635).epsilon(1e-4));
  CHECK(loads::climb_ratio(120, 253.5) == Expected(1.61423).epsilon(1e-4));
  CHECK(std::isinf(loads::climb_ratio(260, 253.5)));
}

TEST_CASE("tyre stiffness from pressure is an upper bound of what was measured") {
  SOURCE(measured, "2 pi p sqrt(R r) by hand; bounds 31 to 147 N/mm measured by Rothhamel 2023",
         "digits of the evaluation");
  // 2 pi p sqrt(R r) by hand: 0.2 MPa, 253 and 23.5 mm: 96.90 N/mm, inside 31 to 147 N/mm (Rothhamel 2023).
  const loads::TyreResult soft = loads::tyre_stiffness(200, 253, 23.5);
  CHECK(soft.radial_n_mm == Expected(96.895).epsilon(1e-4));
  CHECK(soft.evidence.coverage == Coverage::inside);
  CHECK(loads::tyre_stiffness(400, 253, 23.5).evidence.coverage == Coverage::extended);
  CHECK_THROWS_AS(loads::tyre_stiffness(-1, 253, 23.5), Fault);
  // c = 2 zeta sqrt(k m): 0.05 at 100 N/mm and 65.4 kg: 255.7 N s/m.
  CHECK(loads::tyre_damping_n_s_m(0.05, 100, 65.4) == Expected(255.734).epsilon(1e-4));
}

TEST_CASE("peak cases of the demonstration") {
  OURS;
  rating::Job job = rating::short_demo();
  const strength::PeakRatings few = strength::rate_peaks(job, published::catalog().data);
  CHECK(few.missing == std::vector<std::string>{"belts", "lashing", "towing", "lifting"});
  job.duty.peaks.lash_nodes = {"E.L", "E.R"};
  job.duty.peaks.lift_nodes = {"E.L", "E.R", "SAD"};
  job.duty.peaks.belt_nodes = {"B.L", "B.R"};
  job.duty.peaks.tow_node = "E.L";
  for (frame::Material& m : job.design.frame.materials) m.yield_mpa = 400;
  const strength::PeakRatings all = strength::rate_peaks(job, published::catalog().data);
  CHECK(all.missing.empty());
  CHECK(all.cases.size() == 26);  // thirteen, empty and loaded
  for (const strength::PeakRating& p : all.cases) {
    INFO(p.load.id);
    CHECK(p.stress_mpa > 1);
    CHECK(p.use == Expected(p.stress_mpa / 400));
    CHECK_FALSE(p.load.evidence.source.key.empty());
  }
  // A stronger strike stresses more; the standing part stays.
  const auto stress = [](const strength::PeakRatings& r, const std::string& id) {
    for (const strength::PeakRating& p : r.cases)
      if (p.load.id == id && p.load.pose.payload_kg > 0) return p.stress_mpa;
    return 0.0;
  };
  job.duty.peaks.shock_factor = 5;
  job.duty.peaks.tow_node = "nowhere";
  CHECK_THROWS_AS(strength::rate_peaks(job, published::catalog().data), Fault);
  job.duty.peaks.tow_node = "E.L";
  const strength::PeakRatings more = strength::rate_peaks(job, published::catalog().data);
  CHECK(stress(more, "kerb-square") > stress(all, "kerb-square"));
  CHECK(stress(more, "drop") == Expected(stress(all, "drop")).epsilon(1e-9));
}
