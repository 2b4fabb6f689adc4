// SPDX-License-Identifier: GPL-3.0-or-later
// Crack growth against the closed form for a constant shape, N = 2 (a0^-1/2 - a1^-1/2) / (C (Y s
// sqrt(pi))^3): independent evaluations with the constants of the IIW.
#include "engine/fatigue/growth.h"
#include "tests/published/outside/outside.h"

#include <cmath>
#include <numbers>

using namespace seamwright;
using namespace seamwright::fatigue;
using seamwright::outside::Expected;

TEST_CASE("constant shape") {
  SOURCE(evaluated, "N = 2 (a0^-1/2 - a1^-1/2) / (C (Y S sqrt(pi))^3), constants of IIW-1823-07",
         "digits of the evaluation");
  CHECK(growth_cycles({}, 80, 0.15, 2.0, [](double) { return 1.12; }) == Expected(1.79687e6).epsilon(1e-5));
  CHECK(growth_cycles({}, 100, 0.10, 1.5, [](double) { return 1.0; }) == Expected(1.61717e6).epsilon(1e-5));
  CHECK(growth_cycles({}, 100, 1, 1, [](double) { return 1.0; }) == 0);
  CHECK_THROWS_AS(growth_cycles({}, 100, 2, 1, [](double) { return 1.0; }), Fault);
  CHECK_THROWS_AS(growth_cycles({}, 0, 1, 2, [](double) { return 1.0; }), Fault);
}

TEST_CASE("a ligament that a moment or a force opens is eaten up as the handbook's deep cracks eat it") {
  SOURCE(recalled, "Tada, Paris & Irwin, single edge notch in bending; two opposite deep cracks in tension", "deep cracks, of which the powers are limits");
  // Two deep cracks: K = P / sqrt(pi c), half ligament c: N = 2c / (2.5 C K0^3). Of the crack from one side under a moment the powers are those
  // of the limit; the whole formula agrees within a fiftieth from half the width on.
  CHECK(growth_length_mm(2, 0) == Expected(2 / 2.5).epsilon(1e-6));
  CHECK(growth_length_mm(2, 1) == Expected(2 / 5.5).epsilon(1e-6));
  const double width = 10;
  const auto intensity = [&](double a) {
    const double half = std::numbers::pi * a / (2 * width);
    return std::sqrt(std::numbers::pi * a) * std::sqrt(std::tan(half) / half) * (0.923 + 0.199 * std::pow(1 - std::sin(half), 4)) / std::cos(half);
  };
  const double whole = growth_cycles({}, 100, 5, 9.9999, [&](double a) { return intensity(a) / std::sqrt(std::numbers::pi * a); });
  CHECK(growth_length_mm(5, 1) / (Paris{}.c * std::pow(100 * intensity(5), 3)) == Expected(whole).epsilon(0.02));
  // In between, and out of range.
  CHECK(growth_length_mm(2, 0.5) < growth_length_mm(2, 0));
  CHECK(growth_length_mm(2, 0.5) > growth_length_mm(2, 1));
  CHECK_THROWS_AS(growth_length_mm(0, 0.5), Fault);
  CHECK_THROWS_AS(growth_length_mm(2, 1.1), Fault);
  CHECK_THROWS_AS(growth_length_mm(std::nan(""), 0.5), Fault);
  CHECK(cycles_to_failure(growth_curve(), 100) == Expected(1 / (Paris{}.c * 1e6)).epsilon(1e-9));
}

TEST_CASE("through-wall crack: both sides of its range") {
  SOURCE(recalled, "Zahoor 1985, by hand", "digits of the evaluation");
  // Zahoor 1985 [from memory], by hand: R/t = 10, A = 1, x = 0.25: 1 + 5.3303/8 + 18.773 0.25^4.24
  CHECK(through_crack(10, 1, std::numbers::pi / 4).tension ==
        Expected(1 + 5.3303 / 8 + 18.773 * 0.0028007).epsilon(1e-4));
  CHECK(through_crack(10, 1, std::numbers::pi / 4).bending <
        through_crack(10, 1, std::numbers::pi / 4).tension);
  CHECK(through_crack(10, 1, 0).tension == 1);  // a short crack in a wide plate
  CHECK(through_crack(10, 1, 0.55 * std::numbers::pi).evidence.coverage == Coverage::inside);
  CHECK(through_crack(10, 1, 0.56 * std::numbers::pi).evidence.coverage == Coverage::none);
  CHECK(through_crack(4.9, 1, 0.5).evidence.coverage == Coverage::none);
  CHECK(through_crack(20.1, 1, 0.5).evidence.coverage == Coverage::none);
  CHECK(through_crack(5, 1, 0.5).evidence.coverage == Coverage::inside);
}

TEST_CASE("an interval where an eye finds a crack in time, none on a slender tube") {
  SOURCE(closed_form, "Cube law of the stress range; a third of the growth", "rounding of the arithmetic");
  const Interval wide = inspection_interval(200, 20, 40, 1e5, by_eye);
  CHECK(wide.evidence.coverage == Coverage::inside);
  CHECK(wide.interval_years == Expected(wide.cycles / 1e5 / 3));
  CHECK(wide.found_mm == Expected(121).epsilon(0.01));
  CHECK(inspection_interval(200, 20, 20, 1e5, by_eye).cycles ==
        Expected(8 * wide.cycles).epsilon(1e-9));  // cube of the range
  // 60 x 2: an eye finds it too late, particles on ground welds in time.
  CHECK(inspection_interval(29, 2, 40, 1e5, by_eye).evidence.coverage == Coverage::none);
  CHECK(inspection_interval(29, 2, 40, 1e5, by_magnetic_particles).evidence.coverage == Coverage::inside);
}

TEST_CASE("a cracked tube carries what its rest carries at yield") {
  // Equilibrium of the rest at yield, by quadrature around it: tension on one side of a neutral axis, compression on the other.
  SOURCE(closed_form, "Net section at yield: sum of forces and moments over what is left of a thin ring", "steps of the quadrature");
  const double pi = std::numbers::pi, radius = 12, wall = 2, yield = 400;
  const auto carried = [&](double half_angle, double tension) {
    constexpr int steps = 200000;
    const double pressed = 0.5 * (pi - half_angle - tension / (2 * radius * wall * yield));
    double force = 0, moment = 0;
    for (int i = 0; i < steps; ++i) {
      const double angle = half_angle + (pi - half_angle) * (i + 0.5) / steps;
      const double pull = (angle < pi - pressed ? 1 : -1) * yield * wall * radius * 2 * (pi - half_angle) / steps;
      force += pull;
      moment += pull * radius * std::cos(angle);
    }
    CHECK(force == Expected(tension).margin(1e-3 * yield * wall * radius));
    return moment;
  };
  CHECK(net_section_moment(radius, wall, 0, 0, yield) == Expected(4 * radius * radius * wall * yield).epsilon(1e-12));
  for (const double share : {0.1, 0.25, 0.4, 0.5})
    for (const double tension : {0.0, 5000.0}) {
      INFO(share << " " << tension);
      CHECK(net_section_moment(radius, wall, share * pi, tension, yield) == Expected(carried(share * pi, tension)).epsilon(1e-4));
    }
  CHECK(net_section_moment(radius, wall, 0.5 * pi, 1e6, yield) == 0);
  CHECK_THROWS_AS(net_section_moment(0, wall, 1, 0, yield), Fault);
  CHECK_THROWS_AS(net_section_moment(radius, wall, 4, 0, yield), Fault);
}

TEST_CASE("growth around a tube is that of its through crack") {
  SOURCE(evaluated, "Zahoor 1985 [from memory] in N = integral of da / (C (F S sqrt(pi a))^3), by the midpoint rule", "steps of the midpoint rule");
  const double pi = std::numbers::pi, radius = 11.5, wall = 2;
  double cycles = 0;
  constexpr int steps = 2000;
  for (int i = 0; i < steps; ++i) {
    const double share = 0.4 + 0.1 * (i + 0.5) / steps, a = share * pi * radius;
    const double factor = 1 + std::pow(0.125 * radius / wall - 0.25, 0.25) * (5.3303 * std::pow(share, 1.5) + 18.773 * std::pow(share, 4.24));
    cycles += 0.1 * pi * radius / steps / (5.21e-13 * std::pow(factor * std::sqrt(pi * a), 3));
  }
  CHECK(growth_around(radius, wall, breakthrough_share, half_the_girth).value() == Expected(cycles).epsilon(1e-6));
  // Below R/t 5 the factor is that at 5, and N goes with the radius to the power of -1/2.
  CHECK(growth_around(4 * wall, wall, 0.4, 0.5).value() == Expected(growth_around(5 * wall, wall, 0.4, 0.5).value() * std::sqrt(5.0 / 4)).epsilon(1e-6));
  CHECK_FALSE(growth_around(2.9 * wall, wall, 0.4, 0.5));
  CHECK_FALSE(growth_around(20.1 * wall, wall, 0.4, 0.5));
  CHECK_FALSE(growth_around(radius, wall, 0.5, 0.5));
  CHECK_FALSE(growth_around(radius, wall, 0.4, 0.56));
}

TEST_CASE("a look finds so much") {
  SOURCE(recalled, "DNV-RP-C210, by eye with easy access: x0 = 15.78 mm, b = 1.079", "digits of the evaluation");
  CHECK(found_share(by_eye, 15.78) == Expected(0.5));
  CHECK(found_share(by_eye, 0) == 0);
  CHECK(found_share(by_eye, 30) == Expected(1 - 1 / (1 + std::pow(30 / 15.78, 1.079))));
}
