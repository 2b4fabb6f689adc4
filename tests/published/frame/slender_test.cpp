// SPDX-License-Identifier: GPL-3.0-or-later
// Buckling curves and cross-section classes of EN 1993-1-1 [from memory].
#include <cmath>
#include <numbers>

#include "engine/frame/slender.h"
#include "tests/published/outside/outside.h"

using namespace seamwright::frame;
using seamwright::outside::Expected;

TEST_CASE("reduction factors of the buckling curves") {
  SOURCE(recalled, "EN 1993-1-1, 6.3.1, curves a, b, c: table of the reduction factor chi",
         "last printed digit");
  // Table of chi, as many handbooks print it [from memory]: slenderness 0.2, 0.5, 1.0, 1.5, 2.0 for curves a,
  // b, c.
  const struct {
    double imperfection, slenderness, chi;
  } rows[] = {{0.21, 0.2, 1},      {0.21, 0.5, 0.9243}, {0.21, 1.0, 0.6656}, {0.21, 1.5, 0.3724},
              {0.21, 2.0, 0.2229}, {0.34, 0.5, 0.8842}, {0.34, 1.0, 0.5970}, {0.34, 1.5, 0.3422},
              {0.34, 2.0, 0.2095}, {0.49, 0.5, 0.8430}, {0.49, 1.0, 0.5399}, {0.49, 1.5, 0.3145},
              {0.49, 2.0, 0.1962}};
  for (const auto& r : rows) {
    const double area = 100, i = 1e4, e = 210000, yield = 355;
    const double length = r.slenderness * std::numbers::pi * std::sqrt(e * i / (area * yield));
    const Buckling b = flexural_buckling(area, i, e, yield, length, r.imperfection);
    CHECK(b.slenderness == Expected(r.slenderness));
    CHECK(b.reduction == Expected(r.chi).margin(0.0001));
    CHECK(b.resistance_n == Expected(b.reduction * area * yield));
  }
}

TEST_CASE("class limits of round tubes") {
  SOURCE(recalled, "EN 1993-1-1: 50, 70 and 90 times 235/fy for round tubes", "both sides of each limit");
  // fy 355: 33.10, 46.34, 59.58; fy 620: 18.95, 26.53, 34.11 (computed from 50, 70, 90 x 235/fy).
  const double rows[][2] = {{33.09, 355}, {18.94, 620}};
  for (const auto& r : rows) {
    CHECK(round_tube_class(r[0], 1, r[1]) == 1);
    CHECK(round_tube_class(r[0] + 0.02, 1, r[1]) == 2);
    CHECK(round_tube_class(1.4 * r[0], 1, r[1]) == 2);
    CHECK(round_tube_class(1.4 * r[0] + 0.03, 1, r[1]) == 3);
    CHECK(round_tube_class(1.8 * r[0], 1, r[1]) == 3);
    CHECK(round_tube_class(1.8 * r[0] + 0.03, 1, r[1]) == 4);
  }
}
