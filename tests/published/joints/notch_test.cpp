// SPDX-License-Identifier: GPL-3.0-or-later
// Shoulders against two independent fits to the same charts, holes against the closed form, bolts against the
// tables of the standards.
#include <cmath>

#include "engine/joints/bolt.h"
#include "engine/joints/notch.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::joints;
using seamwright::outside::Expected;

TEST_CASE("shoulder in bending: power-law fits of the same chart") {
  SOURCE(printed, "Norton, Machine Design, appendix on stress concentration: K = A (r/d)^b",
         "fits to older and newer charts differ by 6 to 11 %");
  // K = A (r/d)^b (Norton, Machine Design, appendix on stress concentration; read in a
  // reprint).
  // The two fits to older and newer photoelastic charts differ by 6 to 11 % at sharp fillets.
  const struct {
    double ratio, a, b;
  } rows[] = {
      {1.1, 0.95120, -0.23757}, {1.2, 0.97098, -0.21796}, {1.5, 0.93836, -0.25759}, {2, 0.90879, -0.28598}};
  for (const auto& row : rows)
    for (const double fillet : {0.03, 0.05, 0.1, 0.15}) {
      const double d = 20;
      const auto f = shoulder_factors({row.ratio * d, d, fillet * d});
      INFO(row.ratio << " " << fillet);
      CHECK(f.bending == Expected(row.a * std::pow(fillet, row.b)).epsilon(0.12));
    }
}

TEST_CASE("shoulder in bending and tension: the coefficients of a handbook") {
  SOURCE(printed,
         "Young & Budynas, Roark's Formulas, table of stress concentration, square shoulder with fillet",
         "two fits to the same chart");
  // Young and Budynas, Roark's Formulas for Stress and Strain, table of stress concentration, square shoulder
  // with fillet in a circular shaft (read in a reprint): h/r = 1, 2h/D = 0.25.
  const double t = 0.25;
  const double bending = (0.927 + 1.149 - 0.086) + (0.015 - 3.281 + 0.837) * t +
                         (0.847 + 1.716 - 0.506) * t * t + (-0.790 + 0.417 - 0.246) * t * t * t;
  const double tension = (0.927 + 1.149 - 0.086) + (0.011 - 3.029 + 0.948) * t +
                         (-0.304 + 3.979 - 1.737) * t * t + (0.366 - 2.098 + 0.875) * t * t * t;
  const auto f = shoulder_factors({40, 30, 5});
  CHECK(f.bending == Expected(bending).epsilon(0.02));
  CHECK(f.tension == Expected(tension).epsilon(0.02));
  // h/r = 9, 2h/D = 0.5.
  const double u = 0.5, s = 3, x = 9;
  const double sharp = (1.225 + 0.831 * s - 0.010 * x) + (-3.790 + 0.958 * s - 0.257 * x) * u +
                       (7.374 - 4.834 * s + 0.862 * x) * u * u + (-3.809 + 3.046 * s - 0.595 * x) * u * u * u;
  CHECK(shoulder_factors({36, 18, 1}).bending == Expected(sharp).epsilon(0.02));
}

TEST_CASE("shoulder: no step is no concentration, and both branches meet") {
  SOURCE(closed_form, "No step, no concentration", "how far the fits miss 1 at the end of their range");
  // Every fit must end near 1 at 2h/D = 1, as the small section then is next to nothing.
  for (const double fillet : {5.0, 1.2}) {
    const auto f = shoulder_factors({10, 1e-6, fillet});
    CHECK(f.bending == Expected(1).margin(0.03));
    CHECK(f.tension == Expected(1).margin(0.03));
  }
  const auto below = shoulder_factors({34, 30, 2 / 1.9999}), above = shoulder_factors({34, 30, 2 / 2.0001});
  CHECK(below.bending == Expected(above.bending).epsilon(0.02));
  CHECK(below.tension == Expected(above.tension).epsilon(0.02));
}

TEST_CASE("shoulder: outside its range it says so, and what is no shoulder is refused") {
  SOURCE(printed, "Young & Budynas, Roark's Formulas: range of h/r", "both sides of each limit");
  CHECK(shoulder_factors({34, 30, 2}).evidence.coverage == Coverage::inside);
  CHECK(shoulder_factors({34, 30, 0.4}).evidence.coverage == Coverage::extended);  // torsion: h/r = 5
  CHECK(shoulder_factors({34, 30, 9}).evidence.coverage == Coverage::extended);
  for (const Shoulder& s :
       {Shoulder{30, 30, 1}, Shoulder{30, 20, 0}, Shoulder{30, -1, 1}, Shoulder{30, NAN, 1}})
    CHECK_THROWS_AS(shoulder_factors(s), Fault);
}

TEST_CASE("small hole: three times the direct stress, four times the shear") {
  SOURCE(closed_form, "Kirsch: 3 times the direct stress, 4 times the shear", "rounding of the arithmetic");
  CHECK(hole_edge_factors(90)[0] == Expected(3));
  CHECK(hole_edge_factors(0)[0] == Expected(-1));
  CHECK(hole_edge_factors(135)[1] == Expected(4));
  CHECK(hole_edge_factors(45)[1] == Expected(-4));
  CHECK(hole_edge_factors(90)[1] == Expected(0).margin(1e-12));
}

TEST_CASE("stress areas of metric threads") {
  SOURCE(recalled, "ISO 898-1, table of stress areas", "half the last printed digit");
  // ISO 898-1, table of stress areas, coarse threads [from memory].
  const double rows[][3] = {{5, 0.8, 14.2}, {6, 1, 20.1}, {8, 1.25, 36.6}, {10, 1.5, 58.0}, {12, 1.75, 84.3}};
  for (const auto& row : rows)
    CHECK(size_of({row[0], row[1]}).stress_area_mm2 == Expected(row[2]).margin(0.06));
  CHECK_THROWS_AS(size_of({1, 2}), Fault);
}

TEST_CASE("tightening torques of printed tables") {
  SOURCE(printed, "Table of preloads and torques after VDI 2230 (2001)",
         "the head's friction diameter is not printed");
  // Preload in kN and torque in N m for 90 % of yield, property class 8.8, fine threads, mean friction 0.12
  // and 0.14; table after VDI 2230 (2001). The head's mean friction diameter is not printed: hexagon head,
  // hole of the middle series.
  const struct {
    double d, pitch, head, friction, preload, torque;
  } rows[] = {{8, 1, 10.3, 0.12, 20.2, 26.1},   {8, 1, 10.3, 0.14, 19.7, 29.2},
              {10, 1.25, 12.8, 0.12, 31.6, 51}, {10, 1.25, 12.8, 0.14, 30.8, 57},
              {12, 1.25, 15.0, 0.12, 48.0, 90}, {12, 1.25, 15.0, 0.14, 46.8, 101}};
  for (const auto& r : rows)
    CHECK(tightening_torque({{r.d, r.pitch}, 1000 * r.preload, r.friction, r.friction, r.head}).torque_nmm ==
          Expected(1000 * r.torque).epsilon(0.03));
}

TEST_CASE("bolt resistance: tables computed from the same formula") {
  SOURCE(evaluated, "EN 1993-1-8 Table 3.4, by hand", "stress area rounded to 58.0");
  // M10 8.8: 0.9 x 800 x 58.0 / 1.25 = 33.4 kN, 0.6 x 800 x 58.0 / 1.25 = 22.3 kN (EN 1993-1-8 Table 3.4 by
  // hand).
  const auto r = bolt_resistance({10, 1.5}, 800, false);
  CHECK(r.tension_n == Expected(33400).epsilon(0.002));
  CHECK(r.shear_n == Expected(22270).epsilon(0.002));
  CHECK(bolt_use(r, r.tension_n, 0) == Expected(1));
  CHECK(bolt_use(r, 0.7 * r.tension_n, 0.5 * r.shear_n) == Expected(1));
  CHECK(bolt_use(r, -r.tension_n, 0.5 * r.shear_n) == Expected(0.5));
  CHECK(bolt_resistance({10, 1.5}, 1000, true).shear_n == Expected(0.5 * 1000 * 58.0 / 1.25).epsilon(0.002));
}
