// SPDX-License-Identifier: GPL-3.0-or-later
// Every bound of a published rule from both sides: on it the rule holds, just beyond it says that it does
// not. The bounds are typed here a second time from the sources.
#include <functional>
#include <limits>

#include "catalog/published/published_data.h"
#include "engine/fatigue/curve.h"
#include "engine/fatigue/growth.h"
#include "engine/frame/section.h"
#include "engine/joints/bolt.h"
#include "engine/joints/flexibility.h"
#include "engine/joints/notch.h"
#include "engine/joints/rectangular.h"
#include "engine/joints/resistance.h"
#include "engine/joints/xk.h"
#include "engine/loads/road.h"
#include "engine/loads/tyre.h"
#include "engine/procedure/carbon.h"
#include "engine/procedure/hardness.h"
#include "engine/procedure/heat.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using seamwright::outside::Expected;

namespace {

using Rule = std::function<Evidence(double)>;

const Limit* find_limit(const Evidence& evidence, const std::string& name) {
  for (const Limit& l : evidence.limits)
    if (l.name == name) return &l;
  for (const Evidence& e : evidence.because)
    if (const Limit* found = find_limit(e, name)) return found;
  return nullptr;
}

const Limit& limit_of(const Evidence& evidence, const std::string& name) {
  const Limit* found = find_limit(evidence, name);
  INFO("limit " << name);
  REQUIRE(found);
  return *found;
}

std::string said(const Evidence& evidence, const Limit& limit) {
  std::ostringstream out;
  out << limit.value << " " << limit.unit << ": " << name_of(evidence.coverage);
  return out.str();
}

/// The bound of one limit: `on` puts the quantity on it, `beyond` a little outside.
void both_sides(const std::string& rule_name, const Rule& rule, const std::string& name, double bound,
                double on, double beyond) {
  INFO(rule_name << ", " << name << " " << bound);
  const Evidence at = rule(on), past = rule(beyond);
  const Limit &l = limit_of(at, name), &m = limit_of(past, name);
  CHECK(l.value == Expected(bound).epsilon(1e-9));
  CHECK(l.inside);
  CHECK(at.coverage == Coverage::inside);
  CHECK(m.value == Expected(bound).epsilon(0.03).margin(1e-3));
  CHECK_FALSE(m.inside);
  CHECK(past.coverage != Coverage::inside);
  std::ostringstream text;
  text << bound << " " << l.unit;
  outside::edge(rule_name + ": " + name, text.str(), said(at, l), said(past, m));
}

/// Takes a quantity that is the parameter itself.
void both_ends(const std::string& rule_name, const Rule& rule, const std::string& name, double least,
               double most) {
  if (least > 0) both_sides(rule_name, rule, name, least, least, least * 0.999);
  both_sides(rule_name, rule, name, most, most, most * 1.001);
}

const procedure::Chemistry plain = [] {
  procedure::Chemistry x;
  x.c = 0.15, x.si = 0.3, x.mn = 1.2;
  return x;
}();

using Element = double procedure::Chemistry::*;
struct Range {
  const char* name;
  Element element;
  double least, most;
};

void chemistry(const std::string& name, procedure::Equivalent (*equivalent)(const procedure::Chemistry&),
               double manganese, const std::vector<Range>& ranges) {
  for (const Range& r : ranges)
    both_ends(
        name,
        [&](double value) {
          procedure::Chemistry x = plain;
          x.mn = manganese;
          x.*r.element = value;
          return equivalent(x).evidence;
        },
        r.name, r.least, r.most);
}

}  // namespace

TEST_CASE("bounds of Efthymiou's equations") {
  SOURCE(evaluated, "DNV-RP-C203 Appendix B, range of Table B-1", "both sides of each bound");
  // D 560 x 20, L 5600, d 336 x 14, 60 degrees: alpha 20, beta 0.6, gamma 14, tau 0.7
  const auto rule = [](auto change) {
    return [change](double value) {
      joints::TyJoint j{560, 20, 5600, 336, 14, 60};
      change(j, value);
      return joints::ty_scf(j, 0.7).evidence;
    };
  };
  const Rule alpha = rule([](joints::TyJoint& j, double v) { j.chord_length_mm = v * 280; });
  const Rule beta = rule([](joints::TyJoint& j, double v) { j.brace_diameter_mm = v * 560; });
  const Rule gamma =
      rule([](joints::TyJoint& j, double v) { j.chord_wall_mm = 280 / v, j.brace_wall_mm = 196 / v; });
  const Rule tau = rule([](joints::TyJoint& j, double v) { j.brace_wall_mm = 20 * v; });
  const Rule angle = rule([](joints::TyJoint& j, double v) { j.angle_deg = v; });
  both_ends("T and Y joint", alpha, "alpha", 4, 40);
  both_sides("T and Y joint", beta, "beta", 0.2, 0.2, 0.199);
  both_ends("T and Y joint", gamma, "gamma", 8, 32);
  both_ends("T and Y joint", tau, "tau", 0.2, 1.0);
  both_sides("T and Y joint", angle, "angle", 20, 20, 19.9);
}

TEST_CASE("bounds of the gap of K joints") {
  SOURCE(evaluated, "DNV-RP-C203 Table B-3: zeta from -0.6 beta / sin(angle) to 1",
         "both sides of each bound");
  const joints::TyJoint j{560, 20, 5600, 336, 14, 60};
  const Rule zeta = [&](double v) { return joints::shared_scf(j, 0.7, {0, 0, 1}, &j, v * 560).evidence; };
  const double overlap = -0.6 * 0.6 / std::sin(std::acos(-1.0) / 3);
  both_sides("K joint", zeta, "zeta", overlap, overlap * (1 - 1e-10), overlap * 1.001);
  both_sides("K joint", zeta, "zeta", 1, 1, 1.001);
}

TEST_CASE("walls thinner than 4 mm are outside what the equations were tried on") {
  SOURCE(recalled, "ISO 14347:2008, scope: walls from 4 mm", "both sides of the bound");
  const auto of = [](double chord, double brace) {
    return joints::ty_scf({20 * chord, chord, 200 * chord, 12 * chord, brace, 60}, 0.7).evidence;
  };
  both_sides(
      "hot-spot stress", [&](double v) { return of(v, v); }, "chord_wall", 4, 4, 3.99);
  both_sides(
      "hot-spot stress", [&](double v) { return of(5, v); }, "brace_wall", 4, 4, 3.99);
  const auto& curves = published::catalog().data.curves;
  both_sides(
      "S-N curve", [&](double v) { return fatigue::sn_life(curves.front(), 100, v).evidence; }, "thickness",
      4, 4, 3.99);
}

TEST_CASE("bounds of square K joints") {
  SOURCE(evaluated, "CIDECT Design Guide 8 (2000), range of K joints with gap", "both sides of each bound");
  const Rule beta = [](double v) { return joints::square_k_scf({100, 5, 100 * v, 3, 45, 30}).evidence; };
  const Rule slender = [](double v) {
    return joints::square_k_scf({100, 100 / v, 60, 60 / v, 45, 30}).evidence;
  };
  const Rule tau = [](double v) { return joints::square_k_scf({100, 8, 60, 8 * v, 45, 30}).evidence; };
  const Rule angle = [](double v) { return joints::square_k_scf({100, 5, 60, 3, v, 30}).evidence; };
  both_sides("square K joint", beta, "beta", 0.35, 0.35, 0.349);
  both_ends("square K joint", slender, "2gamma", 10, 35);
  both_sides("square K joint", tau, "tau", 0.25, 0.25, 0.249);
  both_ends("square K joint", angle, "angle", 30, 60);
}

TEST_CASE("bounds of the chord wall's flexibility") {
  SOURCE(recalled, "Fessler, Mockford & Webster 1986, range of the tests", "both sides of each bound");
  const Rule beta = [](double v) {
    return joints::joint_flexibility({60, 2, 800, 60 * v, 2, 90}, 210000).evidence;
  };
  const Rule gamma = [](double v) {
    return joints::joint_flexibility({60, 30 / v, 800, 30, 2, 90}, 210000).evidence;
  };
  const Rule angle = [](double v) {
    return joints::joint_flexibility({60, 2, 800, 30, 2, v}, 210000).evidence;
  };
  both_ends("chord wall", beta, "beta", 0.33, 0.76);
  both_ends("chord wall", gamma, "gamma", 10, 20);
  both_sides("chord wall", angle, "angle", 35, 35, 34.9);
}

TEST_CASE("bounds of tube joints' static resistance") {
  SOURCE(recalled, "EN 1993-1-8:2005, Table 7.1", "both sides of each bound");
  const auto rule = [](joints::Pattern pattern, auto change) {
    return [pattern, change](double value) {
      joints::TubeJoint j;
      j.pattern = pattern;
      j.chord_diameter_mm = 100, j.chord_wall_mm = 5, j.brace_diameter_mm = 60, j.brace_wall_mm = 4,
      j.angle_deg = 60;
      j.chord_yield_mpa = 235;
      change(j, value);
      return joints::tube_joint_resistance(j).evidence;
    };
  };
  using joints::Pattern;
  using joints::TubeJoint;
  const auto t = [&](auto change) { return rule(Pattern::t_or_y, change); };
  both_sides("tube joint", t([](TubeJoint& j, double v) {
               j.chord_diameter_mm = 200, j.brace_diameter_mm = 200 * v, j.brace_wall_mm = 3;
             }),
             "d/d0", 0.2, 0.2, 0.199);
  const auto slender = [](TubeJoint& j, double v) { j.chord_wall_mm = 100 / v, j.brace_wall_mm = 2.5; };
  both_sides("tube joint", t(slender), "d0/t0", 10, 10, 9.9);
  const auto thin = [](TubeJoint& j, double v) { j.chord_diameter_mm = 2.5 * v, j.chord_wall_mm = 2.5; };
  both_sides("T joint", t(thin), "d0/t0", 50, 50, 50.1);
  both_sides("X joint", rule(Pattern::x, thin), "d0/t0", 40, 40, 40.1);
  both_sides("tube joint", t([](TubeJoint& j, double v) { j.brace_diameter_mm = 4 * v; }), "d/t", 10, 10,
             9.9);
  both_sides("tube joint", t([](TubeJoint& j, double v) {
               j.chord_diameter_mm = 200, j.brace_diameter_mm = 2.5 * v, j.brace_wall_mm = 2.5;
             }),
             "d/t", 50, 50, 50.1);
  both_sides("tube joint", t([](TubeJoint& j, double v) { j.angle_deg = v; }), "angle", 30, 30, 29.9);
  both_sides("tube joint", t([](TubeJoint& j, double v) { j.chord_wall_mm = v; }), "chord_wall", 2.5, 2.5,
             2.49);
  both_sides("tube joint", t([](TubeJoint& j, double v) {
               j.chord_wall_mm = v, j.chord_diameter_mm = 400, j.brace_diameter_mm = 100;
             }),
             "chord_wall", 25, 25, 25.1);
  both_sides("tube joint", t([](TubeJoint& j, double v) { j.brace_wall_mm = v; }), "brace_wall", 2.5, 2.5,
             2.49);
  both_sides("tube joint", t([](TubeJoint& j, double v) {
               j.chord_diameter_mm = 500, j.chord_wall_mm = 25, j.brace_diameter_mm = 300,
               j.brace_wall_mm = v;
             }),
             "brace_wall", 25, 25, 25.1);
  both_sides("tube joint", t([](TubeJoint& j, double v) { j.chord_yield_mpa = v; }), "yield", 460, 460, 461);
}

TEST_CASE("bounds of shoulders, bolts, cracks, sections and tyres") {
  {
    SOURCE(printed, "Young & Budynas, Roark's Formulas: range of h/r of a square shoulder with fillet",
           "both sides of each bound");
    // D 40, d 30: h = 5
    const Rule shoulder = [](double v) { return joints::shoulder_factors({40, 30, 5 / v}).evidence; };
    both_ends("shoulder", shoulder, "h/r (torsion)", 0.25, 4);
    const auto direct = [&](double v) { return limit_of(shoulder(v), "h/r").inside; };
    EDGE("shoulder: h/r", "0.1", direct(0.1), !direct(0.0999));
    EDGE("shoulder: h/r", "20", direct(20), !direct(20.01));
  }
  {
    SOURCE(recalled, "Zahoor 1985: range of the through-wall crack", "both sides of each bound");
    both_ends(
        "through-wall crack", [](double v) { return fatigue::through_crack(v, 1, 0.5).evidence; }, "R/t", 5,
        20);
    both_sides(
        "through-wall crack",
        [](double v) { return fatigue::through_crack(10, 1, v * std::acos(-1.0)).evidence; }, "theta/pi",
        0.55, 0.55, 0.551);
  }
  {
    SOURCE(measured, "Rothhamel 2023: radial stiffness of bicycle tyres, 31 to 147 N/mm",
           "both sides of each bound");
    const double one = loads::tyre_stiffness(200, 253, 23.5).radial_n_mm / 200;
    both_ends(
        "tyre", [&](double v) { return loads::tyre_stiffness(v / one, 253, 23.5).evidence; },
        "radial_stiffness", 31, 147);
  }
  {
    SOURCE(recalled, "Cowper (1966), thin-walled box: our bound of what is thin", "both sides of the bound");
    both_sides(
        "box section",
        [](double v) {
          return frame::section_properties(frame::RectangularTube{40, 40, 40 * v, 0}, 0.3).evidence;
        },
        "wall-to-width", 0.125, 0.125, 0.126);
    both_sides(
        "flat oval section",
        [](double v) {
          return frame::section_properties(frame::FlatOvalTube{40, 24, 24 * v}, 0.3).evidence;
        },
        "wall-to-width", 0.125, 0.125, 0.126);
  }
  {
    SOURCE(recalled, "VDI 2230: friction of threads and heads", "both sides of each bound");
    both_ends(
        "tightening torque",
        [](double v) {
          return joints::tightening_torque({{10, 1.5}, 20000, v, v, 13}).evidence;
        },
        "friction", 0.04, 0.5);
  }
}

TEST_CASE("bounds of road spectra") {
  SOURCE(recalled, "ISO 8608:2016: 0.01 to 10 cycles/m, waviness 2, classes A to D on ways",
         "both sides of each bound");
  const auto rule = [](auto change) {
    return [change](double value) {
      loads::Road road;
      road.gd_n0_m3 = 256e-6;
      road.waviness = 2;
      double hz = 1;  // at 1 m/s: cycles per metre
      change(road, hz, value);
      return loads::road_psd(road, hz, 1).evidence;
    };
  };
  both_ends("road", rule([](loads::Road&, double& hz, double v) { hz = v; }), "spatial_frequency", 0.01, 10);
  both_sides("road", rule([](loads::Road& r, double&, double v) { r.waviness = v; }), "waviness", 2, 2, 2.02);
  both_sides("road", rule([](loads::Road& r, double&, double v) { r.waviness = v; }), "waviness", 2, 2, 1.98);
  both_sides("road", rule([](loads::Road& r, double&, double v) { r.gd_n0_m3 = v; }),
             "roughness_at_0.1_cycles_per_m", 2048e-6, 2048e-6, 2050e-6);
}

TEST_CASE("bounds of carbon equivalents, preheat and hardness") {
  using procedure::Chemistry;
  SOURCE(evaluated, "EN 1011-2: range of methods A (CE) and B (CET); Ito & Bessyo (Pcm); Yurioka (hardness)",
         "both sides of each bound");
  chemistry("CE", procedure::ce_iiw, 1.6,
            {{"C", &Chemistry::c, 0.05, 0.25},
             {"Si", &Chemistry::si, 0, 0.8},
             {"Mn", &Chemistry::mn, 0, 1.7},
             {"Cr", &Chemistry::cr, 0, 0.9},
             {"Cu", &Chemistry::cu, 0, 1.0},
             {"Ni", &Chemistry::ni, 0, 2.5},
             {"Mo", &Chemistry::mo, 0, 0.75},
             {"V", &Chemistry::v, 0, 0.20}});
  chemistry("CET", procedure::cet, 1.2,
            {{"C", &Chemistry::c, 0.05, 0.32},
             {"Si", &Chemistry::si, 0, 0.8},
             {"Mn", &Chemistry::mn, 0.5, 1.9},
             {"Cr", &Chemistry::cr, 0, 1.5},
             {"Cu", &Chemistry::cu, 0, 0.7},
             {"Mo", &Chemistry::mo, 0, 0.75},
             {"Nb", &Chemistry::nb, 0, 0.06},
             {"Ni", &Chemistry::ni, 0, 2.5},
             {"Ti", &Chemistry::ti, 0, 0.12},
             {"V", &Chemistry::v, 0, 0.18},
             {"B", &Chemistry::b, 0, 0.005}});
  chemistry("Pcm", procedure::pcm, 1.2,
            {{"C", &Chemistry::c, 0.07, 0.22},
             {"Si", &Chemistry::si, 0, 0.60},
             {"Mn", &Chemistry::mn, 0.40, 1.40},
             {"Cu", &Chemistry::cu, 0, 0.50},
             {"Ni", &Chemistry::ni, 0, 1.20},
             {"Cr", &Chemistry::cr, 0, 1.20},
             {"Mo", &Chemistry::mo, 0, 0.70},
             {"V", &Chemistry::v, 0, 0.12},
             {"Nb", &Chemistry::nb, 0, 0.04},
             {"Ti", &Chemistry::ti, 0, 0.05},
             {"B", &Chemistry::b, 0, 0.005}});
  // CE itself, by carbon and manganese: C + Mn / 6
  const auto ce = [](double v) {
    Chemistry x;
    x.c = 0.2, x.mn = 6 * (v - 0.2);
    return procedure::ce_iiw(x).evidence;
  };
  both_sides("CE", ce, "CE", 0.30, 0.30, 0.299);
  const auto high = [](double v) {
    Chemistry x;
    x.c = 0.25, x.mn = 1.5, x.cr = 5 * (v - 0.5);
    x.mo = 0.25, x.cr = 5 * (v - 0.5) - 0.25;
    return procedure::ce_iiw(x).evidence;
  };
  both_sides("CE", high, "CE", 0.70, 0.70, 0.701);
  both_ends(
      "preheat", [](double v) { return procedure::preheat_cet(v, 20, 5, 1, 700).evidence; }, "CET", 0.20,
      0.50);
  both_ends(
      "preheat", [](double v) { return procedure::preheat_cet(0.4, v, 5, 1, 700).evidence; }, "thickness", 10,
      90);
  both_ends(
      "preheat", [](double v) { return procedure::preheat_cet(0.4, 20, v, 1, 700).evidence; }, "hydrogen", 1,
      20);
  both_ends(
      "preheat", [](double v) { return procedure::preheat_cet(0.4, 20, 5, v, 700).evidence; }, "heat_input",
      0.5, 4.0);
  both_sides(
      "preheat", [](double v) { return procedure::preheat_cet(0.4, 20, 5, 1, v).evidence; }, "yield", 1000,
      1000, 1001);
  both_sides(
      "hardness",
      [](double v) {
        Chemistry x = plain;
        x.c = v;
        return procedure::peak_hardness(x, 10).evidence;
      },
      "C", 0.8, 0.8, 0.801);
}

TEST_CASE("knees and cut-offs of every curve") {
  SOURCE(recalled,
         "DNVGL-RP-C203 Table 2-1: 3 to 5 at 1e7; EN 1993-1-9: 3 to 5 at 5e6, none after 1e8; IIW-1823-07: 3 "
         "to 5 at 1e7",
         "slope by a small step");
  for (const fatigue::Curve& c : published::catalog().data.curves) {
    const auto slope = [&](double range) {
      return std::log(fatigue::cycles_to_failure(c, range) / fatigue::cycles_to_failure(c, 1.0001 * range)) /
             std::log(1.0001);
    };
    const double knee_at = c.set == "en1993" ? 5e6 : c.stress == fatigue::StressKind::shear ? 1e8 : 1e7;
    for (const double knee : fatigue::knees_mpa(c)) {
      INFO(c.set << " " << c.id << " " << c.environment);
      const double above = slope(knee * 1.01), below = slope(knee * 0.98),
                   life = fatigue::cycles_to_failure(c, knee * 1.0000001);
      CHECK(above == Expected(c.segments[0].slope).epsilon(1e-6));
      CHECK(below == Expected(c.segments[1].slope).epsilon(1e-6));
      CHECK(life == Expected(knee_at).epsilon(1e-5));
      std::ostringstream on, beyond, at;
      on << "slope " << above, beyond << "slope " << below, at << knee << " MPa, " << knee_at << " cycles";
      outside::edge(c.set + " " + c.id + " (" + c.environment + "): knee", at.str(), on.str(), beyond.str());
    }
    if (c.cutoff_mpa) {
      INFO(c.set << " " << c.id);
      const double life = fatigue::cycles_to_failure(c, *c.cutoff_mpa * 1.0000001);
      CHECK(life == Expected(1e8).epsilon(1e-4));
      CHECK(std::isinf(fatigue::cycles_to_failure(c, *c.cutoff_mpa * 0.9999999)));
      std::ostringstream at, on;
      at << *c.cutoff_mpa << " MPa", on << life << " cycles";
      outside::edge(c.set + " " + c.id + " (" + c.environment + "): cut-off", at.str(), on.str(),
                    "no damage");
    }
  }
}
