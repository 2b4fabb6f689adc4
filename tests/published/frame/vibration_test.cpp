// SPDX-License-Identifier: GPL-3.0-or-later
// Natural frequencies of uniform beams: R. D. Blevins, Formulas for Natural Frequency and Mode Shape (1979),
// table 8-1 (roots from memory; they solve cos x cosh x = -1, sin x = 0 and cos x cosh x = 1), and the simply
// supported Timoshenko beam: S. P. Timoshenko, Philosophical Magazine 41 (1921) 744-746.
#include <cmath>
#include <numbers>

#include "tests/engine/frame/small_frames.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::frame;
using seamwright::outside::WithinRel;

namespace {

constexpr double pi = std::numbers::pi;

struct Bar {
  SectionProperties p;
  double e, g, rho, length;
};

Bar slender() {
  const Material m = steel();
  return {section_properties(RoundTube{20, 1}, m.poisson).properties, m.youngs_mpa, 80000,
          m.density_kg_m3 * 1e-12, 4000};
}

double euler_hz(const Bar& b, double root) {
  return root * root / (2 * pi * b.length * b.length) * std::sqrt(b.e * b.p.i_y_mm4 / (b.rho * b.p.area_mm2));
}

/// The lower root of the frequency equation of a simply supported Timoshenko beam, mode n.
double timoshenko_hz(const Bar& b, int n) {
  const double q = std::pow(n * pi / b.length, 2), a = b.p.area_mm2, i = b.p.i_y_mm4,
               s = b.g * b.p.shear_area_y_mm2;
  // (rho A w2 - S q)(rho I w2 - E I q - S) = S^2 q
  const double qa = b.rho * a * b.rho * i;
  const double qb = -(b.rho * a * (b.e * i * q + s) + s * q * b.rho * i);
  const double qc = s * q * b.e * i * q;
  return std::sqrt(2 * qc / (-qb + std::sqrt(qb * qb - 4 * qa * qc))) / (2 * pi);
}

}  // namespace

TEST_CASE("cantilever frequencies") {
  SOURCE(closed_form, "Blevins, Formulas for Natural Frequency and Mode Shape (1979), table 8-1",
         "shear and rotary inertia, which the form leaves out, and thirty elements");
  Frame f = beam(RoundTube{20, 1}, {0, 0, 0}, {4000, 0, 0}, 30);
  f.supports = {{"0", clamped}};
  const Modes m = modes(assemble(f, Footing::supports), 60);
  // Each bending mode comes twice, in two planes. Shear and rotary inertia lower the third by 0.06 %.
  const double roots[] = {1.87510407, 4.69409113, 7.85475744};
  REQUIRE(m.frequency_hz.size() >= 6);
  for (int i = 0; i < 3; ++i) {
    CHECK_THAT(m.frequency_hz[2 * i], WithinRel(euler_hz(slender(), roots[i]), 1e-3));
    CHECK_THAT(m.frequency_hz[2 * i + 1], WithinRel(m.frequency_hz[2 * i], 1e-9));
  }
}

TEST_CASE("simply supported short beam bends and shears") {
  SOURCE(closed_form, "Timoshenko, Philosophical Magazine 41 (1921) 744-746", "forty elements");
  // A stocky beam, where shear and rotary inertia count: 35 mm tube, 300 mm long.
  Frame f = beam(RoundTube{34.9, 1.2}, {0, 0, 0}, {300, 0, 0}, 40);
  f.supports = {{"0", {true, true, true, true, false, false}},
                {"40", {false, true, true, false, false, false}}};
  Bar b = slender();
  b.p = section_properties(RoundTube{34.9, 1.2}, steel().poisson).properties;
  b.length = 300;
  const Modes m = modes(assemble(f, Footing::supports), 9000);
  const auto nearest = [&](double hz) {
    double best = 0;
    for (const double v : m.frequency_hz)
      if (std::abs(v - hz) < std::abs(best - hz)) best = v;
    return best;
  };
  for (const int n : {1, 2, 3})
    CHECK_THAT(nearest(timoshenko_hz(b, n)), WithinRel(timoshenko_hz(b, n), 1e-3));
  // The shear matters: Euler's frequency is far off.
  CHECK(timoshenko_hz(b, 2) < 0.9 * euler_hz(b, 2 * pi));
}

TEST_CASE("free beam: six rigid modes and then bending and torsion") {
  SOURCE(closed_form, "Blevins (1979), table 8-1; torsion sqrt(G / rho) / (2 L)",
         "shear and rotary inertia, which the form leaves out, and thirty elements");
  const Frame f = beam(RoundTube{20, 1}, {0, 0, 0}, {4000, 0, 0}, 30);
  const Modes m = modes(assemble(f, Footing::nothing), 410);
  REQUIRE(m.frequency_hz.size() > 10);
  for (int i = 0; i < 6; ++i) CHECK(m.frequency_hz[i] == 0);
  CHECK(m.frequency_hz[6] > 1);
  const double roots[] = {4.73004074, 7.85320462, 10.9956078};
  for (int i = 0; i < 3; ++i)
    CHECK_THAT(m.frequency_hz[6 + 2 * i], WithinRel(euler_hz(slender(), roots[i]), 1e-3));
  // First torsion mode of a free round bar: sqrt(G / rho) / (2 L); first axial sqrt(E / rho) / (2 L), beyond
  // the limit.
  const double torsion = std::sqrt(80000 / 7850e-12) / 8000;
  double gap = 1e9;
  for (const double v : m.frequency_hz) gap = std::min(gap, std::abs(v / torsion - 1));
  CHECK(gap < 1e-3);
  // A free beam has no more modes below the limit than the closed forms list: 2 per bending root, 1 torsion.
  int bending = 0;
  while (euler_hz(slender(), (bending + 1.5) * pi) < 410) ++bending;
  CHECK(m.frequency_hz.size() == 6 + 2 * bending + 1);
}
