// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers of welding procedures against independent evaluations of the published formulas (a script of its
// own): EN 1011-1 and -2, Ito & Bessyo, Yurioka, Dueren, Suzuki (the latter three partly from memory). No
// printed worked example was to be had.
#include <cmath>
#include <tuple>

#include "engine/procedure/carbon.h"
#include "engine/procedure/hardness.h"
#include "engine/procedure/heat.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::procedure;
using seamwright::outside::Expected;

namespace {

Chemistry steel(double c, double si, double mn, double cr, double mo, double ni = 0, double cu = 0) {
  Chemistry x;
  x.c = c;
  x.si = si;
  x.mn = mn;
  x.cr = cr;
  x.mo = mo;
  x.ni = ni;
  x.cu = cu;
  return x;
}
const Chemistry mid_25crmo4 = steel(0.255, 0.25, 0.75, 1.05, 0.225);
const Chemistry mid_4130 = steel(0.305, 0.25, 0.50, 0.95, 0.20);
const Chemistry s355 = steel(0.16, 0.35, 1.40, 0.05, 0.01, 0.03, 0.03);

}  // namespace

TEST_CASE("carbon equivalents") {
  SOURCE(
      evaluated,
      "CE: EN 1011-2 method A; CET: EN 1011-2 method B; Pcm: Ito & Bessyo; CEN: Yurioka (partly from memory)",
      "four decimals were evaluated");
  CHECK(ce_iiw(mid_25crmo4).value == Expected(0.6350).epsilon(1e-3));
  CHECK(cet(mid_25crmo4).value == Expected(0.4050).epsilon(1e-3));
  CHECK(pcm(mid_25crmo4).value == Expected(0.3683).epsilon(1e-3));
  CHECK(cen(mid_25crmo4).value == Expected(0.6445).epsilon(1e-3));
  CHECK(ce_iiw(steel(0.29, 0.40, 0.90, 1.20, 0.30)).value == Expected(0.7400).epsilon(1e-3));
  CHECK(cet(steel(0.29, 0.40, 0.90, 1.20, 0.30)).value == Expected(0.4700).epsilon(1e-3));
  CHECK(ce_iiw(mid_4130).value == Expected(0.6183).epsilon(1e-3));
  CHECK(cet(mid_4130).value == Expected(0.4225).epsilon(1e-3));
  CHECK(pcm(mid_4130).value == Expected(0.3992).epsilon(1e-3));
  CHECK(ce_iiw(s355).value == Expected(0.4093).epsilon(1e-3));
  CHECK(cet(s355).value == Expected(0.3057).epsilon(1e-3));
  CHECK(pcm(s355).value == Expected(0.2468).epsilon(1e-3));
}

TEST_CASE("each element counts by its own share") {
  SOURCE(evaluated,
         "CE: EN 1011-2 C.2.1; CET: C.3.2.1; Pcm: Ito & Bessyo; CEN: Yurioka at 0.12 % C, where A is 0.75 "
         "(from memory)",
         "rounding of the arithmetic");
  using Element = double Chemistry::*;
  struct Row {
    Element element;
    double ce, cet, pcm, cen;
  };
  const Row rows[] = {{&Chemistry::si, 0, 0, 1 / 30.0, 0.75 / 24},
                      {&Chemistry::mn, 1 / 6.0, 1 / 10.0, 1 / 20.0, 0.75 / 6},
                      {&Chemistry::cr, 1 / 5.0, 1 / 20.0, 1 / 20.0, 0.75 / 5},
                      {&Chemistry::mo, 1 / 5.0, 1 / 10.0, 1 / 15.0, 0.75 / 5},
                      {&Chemistry::ni, 1 / 15.0, 1 / 40.0, 1 / 60.0, 0.75 / 20},
                      {&Chemistry::cu, 1 / 15.0, 1 / 20.0, 1 / 20.0, 0.75 / 15},
                      {&Chemistry::v, 1 / 5.0, 0, 1 / 10.0, 0.75 / 5},
                      {&Chemistry::nb, 0, 0, 0, 0.75 / 5},
                      {&Chemistry::b, 0, 0, 5, 0.75 * 5}};
  Chemistry plain;
  plain.c = 0.12;
  for (const Row& r : rows) {
    Chemistry x = plain;
    x.*r.element = 0.01;
    INFO(static_cast<int>(&r - rows));
    CHECK(ce_iiw(x).value - ce_iiw(plain).value == Expected(0.01 * r.ce).epsilon(1e-9).margin(1e-14));
    CHECK(cet(x).value - cet(plain).value == Expected(0.01 * r.cet).epsilon(1e-9).margin(1e-14));
    CHECK(pcm(x).value - pcm(plain).value == Expected(0.01 * r.pcm).epsilon(1e-9).margin(1e-14));
    CHECK(cen(x).value - cen(plain).value == Expected(0.01 * r.cen).epsilon(1e-9).margin(1e-14));
  }
}

TEST_CASE("thermal efficiency of every process") {
  const auto efficiency = [](const char* process) { return thermal_efficiency(process).k; };
  {
    SOURCE(evaluated, "EN 1011-1:2009, Table 1", "exact");
    CHECK(efficiency("121") == 1.0);
    for (const char* process : {"111", "131", "135", "136"}) {
      INFO(process);
      CHECK(efficiency(process) == 0.8);
    }
    for (const char* process : {"141", "15"}) {
      INFO(process);
      CHECK(efficiency(process) == 0.6);
    }
  }
  SOURCE(recalled, "EN 1011-1:2009, Table 1: cored wires", "exact");
  for (const char* process : {"114", "132", "133", "138"}) {
    INFO(process);
    CHECK(efficiency(process) == 0.8);
    CHECK(thermal_efficiency(process).evidence.from_memory);
  }
}

TEST_CASE("shape factors of welds") {
  SOURCE(evaluated, "EN 1011-2 Annex D and SEW 088: of ranges the end that cools fastest", "exact");
  const std::tuple<const char*, double, double> rows[] = {{"bead", 1, 1},
                                                          {"butt", 0.9, 0.9},
                                                          {"fillet-tee", 0.45, 0.67},
                                                          {"fillet-corner", 0.67, 0.67},
                                                          {"fillet-lap", 0.7, 0.67}};
  for (const auto& [shape, f2, f3] : rows) {
    INFO(shape);
    CHECK(shape_factors(shape).f2 == f2);
    CHECK(shape_factors(shape).f3 == f3);
  }
}

TEST_CASE("chromium takes 25CrMo4 out of method A, not out of method B") {
  SOURCE(evaluated, "EN 1011-2: range of methods A and B", "both sides of the limit");
  CHECK(ce_iiw(mid_25crmo4).evidence.coverage == Coverage::extended);
  CHECK(cet(mid_25crmo4).evidence.coverage == Coverage::inside);
  CHECK(ce_iiw(s355).evidence.coverage == Coverage::inside);
  CHECK(ce_iiw(steel(0.2, 0.3, 1.0, 0.90, 0.1)).evidence.coverage == Coverage::inside);
  CHECK(ce_iiw(steel(0.2, 0.3, 1.0, 0.91, 0.1)).evidence.coverage == Coverage::extended);
  CHECK_THROWS_AS(cet(steel(-0.1, 0, 1, 0, 0)), Fault);
  CHECK_THROWS_AS(cet(steel(31, 0, 1, 0, 0)), Fault);
}

TEST_CASE("heat input by process") {
  SOURCE(evaluated, "EN 1011-1, Table 1: heat input and thermal efficiencies", "digits of the evaluation");
  CHECK(heat_input("141", 10, 55, 1.5).energy_kj_mm == Expected(0.36667).epsilon(1e-4));
  CHECK(heat_input("141", 10, 55, 1.5).heat_kj_mm == Expected(0.2200).epsilon(1e-4));
  CHECK(heat_input("141", 11, 70, 2.0).heat_kj_mm == Expected(0.2310).epsilon(1e-4));
  CHECK(heat_input("135", 17, 90, 6.0).heat_kj_mm == Expected(0.2040).epsilon(1e-4));
  CHECK(heat_input_of_power("141", 600, 1.5).heat_kj_mm == Expected(0.2400).epsilon(1e-4));
  // 18000 J over 45 mm at any speed: 600 W at 1.5 mm/s for 30 s
  CHECK(heat_input_of_power("141", 18000.0 / 30, 45.0 / 30).heat_kj_mm == Expected(0.2400).epsilon(1e-4));
  CHECK(thermal_efficiency("121").k == 1.0);
  CHECK(thermal_efficiency("111").k == 0.8);
  CHECK(thermal_efficiency("15").k == 0.6);
  CHECK(thermal_efficiency("912").evidence.coverage == Coverage::none);
  CHECK_THROWS_AS(heat_input("141", 10, 55, 0), Fault);
  CHECK_THROWS_AS(heat_input("141", -10, 55, 1), Fault);
}

TEST_CASE("cooling time: thin walls cool in the plane, thick ones in depth") {
  SOURCE(evaluated, "EN 1011-2 Annex D: cooling time t8/5 in two and three dimensions",
         "digits of the evaluation");
  const ShapeFactors none{1, 1};
  const Cooling thin = cooling_time(0.22, 20, 1.5, none);
  CHECK(thin.seconds == Expected(24.44).epsilon(1e-3));
  CHECK(thin.in_depth_s == Expected(1.16).epsilon(5e-3));
  CHECK(thin.transition_mm == Expected(6.88).epsilon(1e-3));
  CHECK(cooling_time(0.231, 20, 2.0, none).seconds == Expected(15.16).epsilon(1e-3));
  CHECK(cooling_time(0.12, 20, 1.0, none).seconds == Expected(16.36).epsilon(1e-3));
  CHECK(cooling_time(0.22, 150, 1.5, none).seconds == Expected(45.57).epsilon(1e-3));
  CHECK(cooling_time(0.22, 20, 1.5, {0.67, 0.67}).seconds == Expected(16.38).epsilon(1e-3));
  CHECK(cooling_time(0.22, 20, 1.5, {0.45, 0.67}).seconds == Expected(11.00).epsilon(1e-3));
  const Cooling thick = cooling_time(1.0, 100, 12, none);
  CHECK(thick.in_plane_s == Expected(11.31).epsilon(1e-3));
  CHECK(thick.in_depth_s == Expected(6.64).epsilon(2e-3));
  CHECK(thick.transition_mm == Expected(15.66).epsilon(1e-3));
  CHECK(thick.seconds == thick.in_plane_s);
  // Both are equal at the transition.
  const Cooling both = cooling_time(1.0, 100, thick.transition_mm, none);
  CHECK(both.in_plane_s == Expected(both.in_depth_s).epsilon(1e-9));
  CHECK(heat_for_cooling(25, 20, 1.5, 1) == Expected(0.2225).epsilon(1e-3));
  CHECK_THROWS_AS(cooling_time(1, 500, 10, none), Fault);
  CHECK_THROWS_AS(shape_factors("spiral"), Fault);
}

TEST_CASE("preheat by CET, and withheld outside its range") {
  SOURCE(evaluated, "EN 1011-2, C.8: preheat by CET", "digits of the evaluation");
  CHECK(preheat_cet(0.405, 10, 3, 0.5, 700).celsius == Expected(84.6).epsilon(1e-3));
  const Preheat p = preheat_cet(0.40, 20, 5, 1.0, 700);
  CHECK(p.celsius == Expected(131.5).epsilon(1e-3));
  CHECK(p.of_cet == Expected(150.0));
  CHECK(p.of_thickness == Expected(-27.4).epsilon(2e-3));
  CHECK(p.of_hydrogen == Expected(8.9).epsilon(5e-3));
  CHECK(p.of_heat == Expected(0.0).margin(1e-9));
  CHECK(preheat_cet(cet(s355).value, 30, 5, 1.5, 355).celsius == Expected(81.5).epsilon(1e-3));
  const Preheat thin = preheat_cet(0.405, 1.5, 3, 0.5, 700);
  CHECK(std::isnan(thin.celsius));
  CHECK(thin.evidence.coverage == Coverage::none);
  for (const auto& [d, inside] :
       {std::pair{10.0, true}, std::pair{9.9, false}, std::pair{90.0, true}, std::pair{90.1, false}})
    CHECK((preheat_cet(0.4, d, 5, 1, 700).evidence.coverage == Coverage::inside) == inside);
  for (const auto& [q, inside] :
       {std::pair{0.5, true}, std::pair{0.49, false}, std::pair{4.0, true}, std::pair{4.1, false}})
    CHECK((preheat_cet(0.4, 20, 5, q, 700).evidence.coverage == Coverage::inside) == inside);
  for (const auto& [h, inside] :
       {std::pair{1.0, true}, std::pair{0.9, false}, std::pair{20.0, true}, std::pair{20.1, false}})
    CHECK((preheat_cet(0.4, 20, h, 1, 700).evidence.coverage == Coverage::inside) == inside);
  for (const auto& [c, inside] :
       {std::pair{0.2, true}, std::pair{0.19, false}, std::pair{0.5, true}, std::pair{0.51, false}})
    CHECK((preheat_cet(c, 20, 5, 1, 700).evidence.coverage == Coverage::inside) == inside);
  CHECK(preheat_cet(0.4, 20, 5, 1, 1001).evidence.coverage == Coverage::none);
}

TEST_CASE("hydrogen scales: a bound belongs to the lower scale") {
  SOURCE(evaluated, "EN 1011-2: hydrogen scales A to E", "both sides of each bound");
  CHECK(hydrogen_scale(3.0) == 'E');
  CHECK(hydrogen_scale(3.1) == 'D');
  CHECK(hydrogen_scale(5) == 'D');
  CHECK(hydrogen_scale(5.1) == 'C');
  CHECK(hydrogen_scale(10) == 'C');
  CHECK(hydrogen_scale(10.1) == 'B');
  CHECK(hydrogen_scale(15) == 'B');
  CHECK(hydrogen_scale(15.1) == 'A');
}

TEST_CASE("hardness by three formulas") {
  SOURCE(recalled, "Yurioka, Dueren, Suzuki: peak hardness, evaluated apart", "digits of the evaluation");
  const Hardness fast = peak_hardness(mid_25crmo4, 5);
  CHECK(fast.yurioka == Expected(506.1).epsilon(1e-3));
  CHECK(fast.dueren == Expected(509.5).epsilon(1e-3));
  CHECK(fast.suzuki == Expected(494.0).epsilon(1e-3));
  CHECK(peak_hardness(mid_25crmo4, 10).yurioka == Expected(472.5).epsilon(1e-3));
  CHECK(peak_hardness(mid_25crmo4, 20).yurioka == Expected(410.6).epsilon(1e-3));
  const Hardness slow = peak_hardness(mid_25crmo4, 25);
  CHECK(slow.yurioka == Expected(385.5).epsilon(1e-3));
  CHECK(slow.dueren == Expected(367.6).epsilon(1e-3));
  CHECK(slow.suzuki == Expected(377.1).epsilon(1e-3));
  CHECK(slow.highest == slow.yurioka);
  CHECK(peak_hardness(mid_25crmo4, 26.3).yurioka == Expected(380).epsilon(2e-3));
  CHECK(peak_hardness(mid_25crmo4, 22.8).dueren == Expected(380).epsilon(2e-3));
  CHECK(peak_hardness(mid_25crmo4, 24.3).suzuki == Expected(380).epsilon(2e-3));
  CHECK_THROWS_AS(peak_hardness(mid_25crmo4, 0), Fault);
}

TEST_CASE("limits of hardness by group") {
  SOURCE(recalled, "ISO 15614-1: hardness limits HV10", "exact");
  CHECK(hardness_limit("2.1", false) == 380.0);
  CHECK(hardness_limit("3.2", false) == 450.0);
  CHECK(hardness_limit("3.1", true) == 380.0);
  CHECK(hardness_limit("5.1", false) == 380.0);
  CHECK(hardness_limit("5.1", true) == 320.0);
  CHECK_FALSE(hardness_limit("6.1", false));
  CHECK(hardness_limit("9.1", false) == 350.0);
  CHECK_FALSE(hardness_limit("8.1", false));
  CHECK_FALSE(hardness_limit("33", false));
}
