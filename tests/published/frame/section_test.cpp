// SPDX-License-Identifier: GPL-3.0-or-later
// Section properties against tables and closed forms.
#include <cmath>
#include <numbers>

#include "engine/frame/section.h"
#include "tests/engine/frame/small_frames.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::frame;
using seamwright::outside::WithinAbs;
using seamwright::outside::WithinRel;

namespace {

SectionProperties of(const Section& s, double poisson = 0.3) {
  return section_properties(s, poisson).properties;
}

}  // namespace

// Exact formulas of the hollow circle; shear coefficient of Cowper, J. Appl. Mech. 33 (1966) 335-340, table 1
// (formula from memory).
TEST_CASE("round tubes") {
  SOURCE(recalled,
         "Closed forms of the hollow circle; shear coefficient: Cowper, J. Appl. Mech. 33 (1966) 335-340, "
         "table 1",
         "digits of the evaluation");
  const SectionProperties a = of(RoundTube{31.8, 0.9});
  CHECK_THAT(a.area_mm2, WithinAbs(87.368, 5e-4));
  CHECK_THAT(a.i_y_mm4, WithinAbs(10436, 0.5));
  CHECK_THAT(a.w_z_mm3, WithinAbs(656.37, 5e-3));
  CHECK_THAT(a.w_t_mm3, WithinAbs(1312.7, 0.05));
  CHECK_THAT(a.shear_area_y_mm2 / a.area_mm2, WithinAbs(0.53133, 5e-6));
  const SectionProperties b = of(RoundTube{34.9, 1.2});
  CHECK_THAT(b.area_mm2, WithinAbs(127.05, 5e-3));
  CHECK_THAT(b.i_z_mm4, WithinAbs(18058, 0.5));
  CHECK_THAT(b.w_y_mm3, WithinAbs(1034.9, 0.05));
  CHECK_THAT(b.shear_area_z_mm2 / b.area_mm2, WithinAbs(0.53169, 5e-6));
  const SectionProperties c = of(RoundTube{38.1, 1.5});
  CHECK_THAT(c.area_mm2, WithinAbs(172.47, 5e-3));
  CHECK_THAT(c.i_z_mm4, WithinAbs(28928, 0.5));
  CHECK_THAT(c.torsion_mm4, WithinRel(2 * c.i_z_mm4, 1e-12));
}

// Thin limit 2 (1 + nu) / (4 + 3 nu), solid circle 6 (1 + nu) / (7 + 6 nu): Cowper (1966), from memory.
TEST_CASE("shear coefficients of circles at their limits") {
  SOURCE(recalled, "Cowper, J. Appl. Mech. 33 (1966) 335-340, table 1: thin limit and solid circle",
         "digits of the evaluation");
  const SectionProperties thin = of(RoundTube{1000, 0.001});
  CHECK_THAT(thin.shear_area_y_mm2 / thin.area_mm2, WithinAbs(0.53061, 5e-6));
  const SectionProperties solid = of(SolidBar{20});
  CHECK_THAT(solid.shear_area_y_mm2 / solid.area_mm2, WithinRel(6 * 1.3 / (7 + 6 * 0.3), 1e-12));
  CHECK_THAT(solid.torsion_mm4, WithinRel(std::numbers::pi / 32 * std::pow(20, 4), 1e-12));
}

// EN 10219-2, table of cold formed square hollow sections: 40 x 40 x 2 has A 2.94 cm2, I 6.94 cm4, It 11.3
// cm4, Ct 5.23 cm3. The exact figures and those of the 200 x 200 x 8 tube follow from the standard's annex
// (formulas from memory).
TEST_CASE("rectangular tubes against EN 10219-2") {
  SOURCE(printed,
         "EN 10219-2, table of cold formed square hollow sections 40 x 40 x 2; exact figures by its annex",
         "half the last printed digit");
  const SectionProperties a = of(RectangularTube{40, 40, 2, 4});
  CHECK_THAT(a.area_mm2 / 100, WithinAbs(2.94, 5e-3));
  CHECK_THAT(a.i_y_mm4 / 1e4, WithinAbs(6.94, 5e-3));
  CHECK_THAT(a.torsion_mm4 / 1e4, WithinAbs(11.3, 5e-2));
  CHECK_THAT(a.w_t_mm3 / 1e3, WithinAbs(5.23, 5e-3));
  CHECK_THAT(a.area_mm2, WithinAbs(293.70, 5e-3));
  CHECK_THAT(a.i_z_mm4, WithinAbs(69402, 0.5));
  CHECK_THAT(a.torsion_mm4, WithinAbs(112770, 5));
  const SectionProperties b = of(RectangularTube{200, 200, 8, 20});
  CHECK_THAT(b.area_mm2, WithinAbs(5924.25, 5e-3));
  CHECK_THAT(b.i_y_mm4, WithinAbs(3.56625e7, 50));
  CHECK_THAT(b.torsion_mm4, WithinAbs(5.81518e7, 50));
}

// Cowper (1966), thin-walled box (from memory); at nu = 0 a square box has 5/12.
TEST_CASE("shear coefficient of the box") {
  SOURCE(recalled, "Cowper (1966), thin-walled box; 5/12 at nu = 0", "digits of the evaluation");
  const SectionProperties a = of(RectangularTube{40, 40, 1.5, 0}, 0.3);
  CHECK_THAT(a.shear_area_y_mm2 / a.area_mm2, WithinAbs(0.43551, 5e-6));
  const SectionProperties b = of(RectangularTube{40, 40, 1.5, 0}, 0);
  CHECK_THAT(b.shear_area_z_mm2 / b.area_mm2, WithinRel(5.0 / 12, 1e-12));
}

TEST_CASE("a tall rectangular tube is stiff upright and its axes are not exchanged") {
  SOURCE(closed_form, "Second moment of a hollow rectangle", "rounding of the arithmetic");
  const SectionProperties a = of(RectangularTube{60, 30, 2, 0});
  CHECK_THAT(a.i_z_mm4, WithinRel((30 * 60.0 * 60 * 60 - 26 * 56.0 * 56 * 56) / 12, 1e-12));
  CHECK_THAT(a.i_y_mm4, WithinRel((60 * 30.0 * 30 * 30 - 56 * 26.0 * 26 * 26) / 12, 1e-12));
  CHECK(a.shear_area_y_mm2 > a.shear_area_z_mm2);
  CHECK(a.outer_y_mm == 30);
}

// Thin-wall formulas on the mid-line; torsion after Bredt (Young & Budynas, section 10.3).
TEST_CASE("flat oval tubes") {
  SOURCE(closed_form,
         "Thin-wall integrals on the mid-line; torsion after Bredt (Young & Budynas, section 10.3)",
         "digits of the evaluation");
  const SectionProperties a = of(FlatOvalTube{40, 25, 1.5});
  CHECK_THAT(a.area_mm2, WithinAbs(155.74, 5e-3));
  CHECK_THAT(a.i_z_mm4, WithinAbs(27143, 0.5));
  CHECK_THAT(a.i_y_mm4, WithinAbs(13857, 0.5));
  CHECK_THAT(a.torsion_mm4, WithinAbs(35723, 0.5));
  CHECK_THAT(a.w_t_mm3, WithinAbs(2358.7, 0.05));
  CHECK_THAT(a.shear_area_y_mm2, WithinAbs(99.508, 5e-4));
  CHECK_THAT(a.shear_area_z_mm2, WithinAbs(51.242, 5e-4));
  const SectionProperties circle = of(FlatOvalTube{30, 30, 1});
  CHECK_THAT(circle.shear_area_y_mm2, WithinAbs(45.553, 5e-4));
  CHECK_THAT(circle.shear_area_z_mm2, WithinRel(circle.area_mm2 / 2, 1e-9));
}

// Timoshenko & Goodier, Theory of Elasticity, section 109, table of k1 and k2: torsion constant k1 (2a)^3
// (2b), greatest stress M / (k2 (2a)^2 (2b)); b/a = 1, 2, 10 (from memory).
TEST_CASE("torsion of solid strips") {
  SOURCE(recalled, "Timoshenko & Goodier, Theory of Elasticity, section 109, table of k1 and k2",
         "last printed digit");
  struct Row {
    double ratio, k1, k2;
  };
  for (const Row& r : {Row{1, 0.1406, 0.208}, Row{2, 0.229, 0.246}, Row{10, 0.312, 0.312}}) {
    const SectionProperties p = of(PlateStrip{10 * r.ratio, 10});
    CHECK_THAT(p.torsion_mm4 / (1000 * 10 * r.ratio), WithinAbs(r.k1, 7e-4));
    CHECK_THAT(p.w_t_mm3 / (100 * 10 * r.ratio), WithinAbs(r.k2, 7e-4));
    const SectionProperties lying = of(PlateStrip{10, 10 * r.ratio});
    CHECK_THAT(lying.torsion_mm4, WithinRel(p.torsion_mm4, 1e-12));
    CHECK_THAT(lying.i_y_mm4, WithinRel(p.i_z_mm4, 1e-12));
  }
}
