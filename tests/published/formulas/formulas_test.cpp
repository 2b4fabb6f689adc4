// SPDX-License-Identifier: GPL-3.0-or-later
// The engine against the same formulas typed a second time: formulas.py printed formulas.txt. Nine digits, so
// that no constant can change unseen; the sources' own printed examples stand in the tests of each subject.
#include <fstream>
#include <functional>
#include <map>
#include <sstream>

#include "engine/cycles/spectral.h"
#include "engine/fatigue/growth.h"
#include "engine/frame/slender.h"
#include "engine/joints/bolt.h"
#include "engine/joints/flexibility.h"
#include "engine/joints/notch.h"
#include "engine/joints/rectangular.h"
#include "engine/joints/resistance.h"
#include "engine/joints/xk.h"
#include "engine/procedure/carbon.h"
#include "engine/procedure/hardness.h"
#include "engine/procedure/heat.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using seamwright::outside::Expected;

namespace {

using Row = std::vector<double>;
using Values = std::vector<double>;

struct Formula {
  outside::Basis basis;
  const char* source;
  std::function<Values(const Row&)> engine;
};

procedure::Chemistry steel(const Row& x) {
  procedure::Chemistry s;
  s.c = x[0], s.si = x[1], s.mn = x[2], s.cu = x[3], s.ni = x[4], s.cr = x[5], s.mo = x[6], s.v = x[7],
  s.nb = x[8];
  return s;
}

Values shoulder(const Row& x) {
  const auto f = joints::shoulder_factors({x[0], x[1], x[2]});
  return {f.tension, f.bending, f.torsion};
}

Values k_axial(const Row& x) {
  const joints::JointRatios r{20, x[0], x[1], x[2], x[3]};
  const joints::KPartner other{{20, x[4], x[1], x[2], x[5]}, x[6]};
  return {joints::eq20_chord_k(r, other), joints::eq21_brace_k(r, other, x[7])};
}

Values square_k(const Row& x) {
  const auto s = joints::square_k_scf({x[0], x[1], x[2], x[3], x[4], x[5]});
  return {s.chord, s.brace, s.chord_loading};
}

Values flexibility(const Row& x) {
  const auto f = joints::joint_flexibility({x[0], x[1], 20 * x[0], x[2], x[1], x[3]}, x[4]);
  return {f.axial, f.in_plane, f.out_of_plane};
}

Values tube_resistance(const Row& x) {
  joints::TubeJoint j;
  j.pattern = x[0] == 0 ? joints::Pattern::t_or_y : x[0] == 1 ? joints::Pattern::x : joints::Pattern::k_gap;
  j.chord_diameter_mm = x[1], j.chord_wall_mm = x[2], j.brace_diameter_mm = x[3], j.brace_wall_mm = x[2];
  j.angle_deg = x[4], j.chord_yield_mpa = x[5], j.chord_stress_ratio = x[6], j.gap_mm = x[7];
  const auto r = joints::tube_joint_resistance(j);
  return {r.face_axial_n, r.in_plane_nmm, r.out_of_plane_nmm};
}

Values thread(const Row& x) {
  const auto s = joints::size_of({x[0], x[1]});
  return {s.pitch_diameter_mm, s.root_diameter_mm, s.stress_area_mm2};
}

Values cen(const Row& x) {
  procedure::Chemistry s = steel(x);
  s.b = x[9];
  return {procedure::cen(s).value};
}

Values hardness(const Row& x) {
  const auto h = procedure::peak_hardness(steel(x), x[9]);
  return {h.yurioka, h.dueren, h.suzuki};
}

Values through_crack(const Row& x) {
  const auto c = fatigue::through_crack(x[0], x[1], x[2]);
  return {c.tension, c.bending};
}

Values growth(const Row& x) {
  const auto& by = x[3] == 0 ? fatigue::by_eye : fatigue::by_magnetic_particles;
  const auto i = fatigue::inspection_interval(x[0], x[1], x[2], 1e6, by);
  return {i.found_mm, i.cycles};
}

Values wirsching_light(const Row& x) {
  return {cycles::wirsching_light_factor({x[0], 0.9 * std::sqrt(x[0] * x[1]), x[1], x[2]}, x[3])};
}

Values buckling(const Row& x) {
  const double area = 100, i = 1e4, e = 210000, yield = 355;
  const double length = x[1] * std::acos(-1.0) * std::sqrt(e * i / (area * yield));
  return {frame::flexural_buckling(area, i, e, yield, length, x[0]).reduction};
}

const std::map<std::string, Formula> formulas = {
    {"shoulder",
     {outside::Basis::recalled, "Peterson's Stress Concentration Factors, charts 3.4, 3.10 and 3.12",
      shoulder}},
    {"crown_7b",
     {outside::Basis::evaluated, "DNV-RP-C203 Table B-1, eq. 7 without the chord's bending",
      [](const Row& x) -> Values {
        return {joints::eq7b_brace_crown_axial_frame({20, x[0], x[1], x[2], x[3]})};
      }}},
    {"k_axial", {outside::Basis::evaluated, "DNV-RP-C203 Table B-3, eqs 20 and 21", k_axial}},
    {"square_k",
     {outside::Basis::evaluated, "CIDECT Design Guide 8 (2000), square K joint with gap", square_k}},
    {"flexibility", {outside::Basis::recalled, "Fessler, Mockford & Webster 1986", flexibility}},
    {"tube_resistance", {outside::Basis::recalled, "EN 1993-1-8:2005, Tables 7.2 and 7.5", tube_resistance}},
    {"thread", {outside::Basis::recalled, "ISO 724 and ISO 898-1: diameters and stress area", thread}},
    {"torque",
     {outside::Basis::recalled, "VDI 2230 Part 1, tightening torque",
      [](const Row& x) -> Values {
        return {joints::tightening_torque({{x[0], x[1]}, x[2], x[3], x[4], x[5]}).torque_nmm};
      }}},
    {"cen", {outside::Basis::recalled, "Yurioka 1983, CEN", cen}},
    {"hardness", {outside::Basis::recalled, "Yurioka 1987, Dueren 1986, Suzuki 1985", hardness}},
    {"heat_for_cooling",
     {outside::Basis::evaluated, "EN 1011-2:2001, Annex D, solved for the heat input",
      [](const Row& x) -> Values { return {procedure::heat_for_cooling(x[0], x[1], x[2], x[3])}; }}},
    {"through_crack", {outside::Basis::recalled, "Zahoor 1985, through-wall crack", through_crack}},
    {"growth",
     {outside::Basis::recalled,
      "DNV-RP-C210, probability of detection by eye and with magnetic particles; growth by quadrature",
      growth}},
    {"wirsching_light", {outside::Basis::recalled, "Wirsching & Light 1980", wirsching_light}},
    {"buckling", {outside::Basis::recalled, "EN 1993-1-1, 6.3.1.2", buckling}},
};

}  // namespace

TEST_CASE("published formulas typed a second time") {
  OURS;  // but for the lines of the table
  std::ifstream file(SEAMWRIGHT_SOURCE_DIR "/tests/published/formulas/formulas.txt");
  std::map<std::string, int> seen;
  for (std::string line; std::getline(file, line);) {
    INFO(line.substr(0, line.find(" =")));
    std::istringstream words(line);
    std::string name, word;
    words >> name;
    REQUIRE(formulas.count(name) == 1);
    Row inputs, expected;
    for (Row* into = &inputs; words >> word;) {
      if (word == "=")
        into = &expected;
      else
        into->push_back(std::stod(word));
    }
    const Formula& formula = formulas.at(name);
    const Values obtained = formula.engine(inputs);
    REQUIRE(obtained.size() == expected.size());
    const outside::Source source(formula.basis, formula.source, "rounding of the arithmetic");
    for (std::size_t i = 0; i < expected.size(); ++i) {
      const double value = obtained[i];
      CHECK(value == Expected(expected[i]).epsilon(1e-9));
    }
    ++seen[name];
  }
  CHECK(seen.size() == formulas.size());
}

TEST_CASE("where formulas change over") {
  {
    SOURCE(evaluated, "DNV-RP-C203 Table B-1: short chords are those with alpha below 12", "both sides");
    for (const auto f : {joints::f1_short_chord, joints::f2_short_chord, joints::f3_short_chord}) {
      CHECK(f({12, 0.5, 24, 0.6, 60}) == Expected(1).epsilon(1e-12));
      CHECK(f({11.9, 0.5, 24, 0.6, 60}) < 1);
    }
  }
  {
    SOURCE(evaluated, "DNV-RP-C203 Table B-2: F1 with fixed chord ends, F2 otherwise; no factor below 1.5",
           "rounding of the arithmetic");
    const joints::TyJoint x{560, 20, 1680, 336, 14, 60};  // alpha 6
    const joints::JointRatios r = joints::joint_ratios(x);
    const double whole = joints::eq12_chord_saddle_x(r);
    const auto saddle = [&](double fixity) {
      return joints::shared_scf(x, fixity, {0, 1, 0}, nullptr, 0).chord.axial_saddle;
    };
    CHECK(saddle(0.5) == Expected(whole * joints::f1_short_chord(r)).epsilon(1e-9));
    CHECK(saddle(0.55) == Expected(whole * joints::f2_short_chord(r)).epsilon(1e-9));
    const auto slight = joints::shared_scf({400, 20, 4000, 120, 4, 30}, 0.7, {0, 1, 0}, nullptr, 0);
    CHECK(slight.chord.axial_saddle == Expected(1.5).epsilon(1e-12));
    CHECK(slight.chord.axial_crown == Expected(1.5).epsilon(1e-12));
  }
  {
    SOURCE(recalled, "EN 1993-1-1, Table 5.2, round tubes: class 2 up to 70", "on the limit");
    CHECK(frame::round_tube_class(50, 1, 235) == 1);
    CHECK(frame::round_tube_class(70, 1, 235) == 2);
    CHECK(frame::round_tube_class(90, 1, 235) == 3);
  }
  {
    SOURCE(recalled, "EN 1993-1-8, Table 3.4: compression does not count in a bolt",
           "rounding of the arithmetic");
    const auto bolt = joints::bolt_resistance({10, 1.5}, 800, false);
    CHECK(joints::bolt_use(bolt, -1000, 0.5 * bolt.shear_n) == Expected(0.5).epsilon(1e-9));
  }
}

TEST_CASE("hardness limits of every group") {
  SOURCE(recalled, "ISO 15614-1:2017, Table 3, HV10; groups 4 and 5 heat treated: the lower of both editions",
         "exact");
  const struct {
    const char* group;
    double as_welded, heat_treated;
  } rows[] = {{"1.2", 380, 320}, {"2", 380, 320},   {"3.1", 450, 380}, {"4", 380, 320},
              {"5.1", 380, 320}, {"9.1", 350, 300}, {"9.2", 450, 350}, {"9.3", 450, 350}};
  for (const auto& row : rows) {
    INFO(row.group);
    CHECK(procedure::hardness_limit(row.group, false).value() == Expected(row.as_welded));
    CHECK(procedure::hardness_limit(row.group, true).value() == Expected(row.heat_treated));
  }
  CHECK_FALSE(procedure::hardness_limit("6", false));
  CHECK(procedure::hardness_limit("6", true).value() == Expected(350));
}

TEST_CASE("our own bounds") {
  OURS;
  CHECK_NOTHROW(procedure::heat_for_cooling(10, -50, 2, 1));
  CHECK_NOTHROW(procedure::heat_for_cooling(10, 300, 2, 1));
  CHECK_THROWS_AS(procedure::heat_for_cooling(10, -50.5, 2, 1), Fault);
  CHECK_THROWS_AS(procedure::heat_for_cooling(10, 300.5, 2, 1), Fault);
  CHECK(procedure::cooling_time(0.5, 20, 3, {1, 1}).evidence.coverage == Coverage::inside);
  CHECK(procedure::cooling_time(0.5, 20, 2.99, {1, 1}).evidence.coverage == Coverage::extended);
  joints::TubeJoint j;
  j.chord_diameter_mm = 100, j.chord_wall_mm = 5, j.brace_diameter_mm = 60, j.brace_wall_mm = 4;
  j.chord_yield_mpa = 235, j.angle_deg = 90.5;
  CHECK_THROWS_AS(joints::tube_joint_resistance(j), Fault);
}
