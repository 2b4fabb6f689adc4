// SPDX-License-Identifier: GPL-3.0-or-later
// Sites as rows over section forces, against beam theory by hand.
#include "catalog/published/published_data.h"
#include "engine/sites/sites.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "engine/design/weld_geometry.h"
#include "engine/frame/statics.h"
#include "engine/joints/hot_spot.h"
#include "engine/joints/rectangular.h"
#include "tests/engine/rating/short_demo.h"
#include "tests/engine/rating/tee.h"

using namespace seamwright;
using namespace seamwright::sites;
using namespace seamwright::rating;

namespace {

struct Tee {
  design::Design design;
  frame::Frame cut;
  frame::Assembly assembly;
  std::vector<Site> sites;

  explicit Tee(design::Design of = tee()) : design(std::move(of)) {
    design.frame.supports = {{"A", {true, true, true, true, true, true}},
                             {"B", {true, true, true, true, true, true}}};
    cut = design::frame_with_cuts(design);
    assembly = frame::assemble(cut, frame::Footing::supports);
    rules::Rules rules;
    sites = make_sites(design, cut, assembly, rules, published::catalog().data);
  }

  /// Stress at a site under a force on the top of the brace.
  double stress(const std::string& kind, double angle, const frame::Vec3& force) const {
    frame::LoadCase load;
    load.id = "top";
    load.loads = {{"T", force, frame::Vec3::Zero()}};
    const auto u = frame::Statics(assembly).solve(frame::case_load(assembly, load)).displacements;
    const Eigen::VectorXd forces = frame::section_force_map(assembly) * u.col(0);
    for (const Site& s : sites)
      if (s.kind == kind && s.angle_deg == angle) return s.row.dot(forces);
    FAIL("no site");
    return 0;
  }
};

double area(double d, double t) { return std::numbers::pi / 4 * (d * d - (d - 2 * t) * (d - 2 * t)); }
double modulus(double d, double t) {
  return std::numbers::pi / 32 * (std::pow(d, 4) - std::pow(d - 2 * t, 4)) / d;
}

}  // namespace

TEST_CASE("sites of a tee: eight points each on toes, wall and root") {
  const Tee tee;
  CHECK(tee.sites.size() == 40);
  for (const char* kind : {"chord-toe", "brace-toe", "chord-wall", "root", "root-wall"})
    CHECK(std::count_if(tee.sites.begin(), tee.sites.end(), [&](const Site& s) { return s.kind == kind; }) ==
          8);
}

TEST_CASE("root of a tee: force and lever over the throat by hand") {
  const Tee tee;
  // Axial 1000 N: N/A times wall over throat.
  CHECK(tee.stress("root", 0, {0, 0, 1000}) == Approx(1000 / area(30, 2) * 2 / 2).epsilon(1e-6));
  // Sideways 100 N at 300 mm above the axis, 270 above the chord's surface; bending about x: pulls at one
  // saddle, zero at crowns.
  const double bend = 100 * (300 - 30) / modulus(30, 2);
  CHECK(std::abs(tee.stress("root", 90, {0, 100, 0})) == Approx(bend).epsilon(1e-6));
  CHECK(tee.stress("root", 270, {0, 100, 0}) == Approx(-tee.stress("root", 90, {0, 100, 0})).epsilon(1e-9));
  CHECK(tee.stress("root", 0, {0, 100, 0}) == Approx(0).margin(1e-6));
  // A force along the chord pulls at the crown that the force points away from. 0 deg is the chord's start
  // side (-x).
  CHECK(tee.stress("root", 0, {100, 0, 0}) == Approx(bend).epsilon(1e-6));
  CHECK(tee.stress("root", 180, {100, 0, 0}) == Approx(-bend).epsilon(1e-6));
}

TEST_CASE("brace toe of a tee is the superposition of its parts") {
  const Tee tee;
  const joints::TyScf scf = joints::ty_scf({60, 3, 800, 30, 2, 90}, 0.7);
  // The chord's own stress does not act on the brace side at the saddle: axial and out-of-plane alone.
  CHECK(tee.stress("brace-toe", 90, {0, 0, 1000}) ==
        Approx(scf.brace.axial_saddle * 1000 / area(30, 2)).epsilon(1e-6));
  const double bend = 100 * 270 / modulus(30, 2);
  CHECK(std::abs(tee.stress("brace-toe", 90, {0, 100, 0})) ==
        Approx(scf.brace.out_of_plane * bend).epsilon(1e-6));
}

TEST_CASE("chord wall of a tee carries the chord's own bending") {
  const Tee tee;
  // Fixed-fixed chord with 1000 N upward in the middle: moment P L / 8 = 100 N m at the load, top fibre in
  // tension. The joint takes no length of the chord, shear bends no moment line.
  CHECK(tee.stress("chord-wall", 0, {0, 0, 1000}) == Approx(1000 * 800 / 8.0 / modulus(60, 3)).epsilon(1e-6));
}

TEST_CASE("a weld along its chord has no seat") {
  Tee tee;
  tee.design.frame.nodes[3].position_mm = {500, 0, 0};
  CHECK_THROWS_AS(design::frame_with_cuts(tee.design), Fault);
}

TEST_CASE("square K joint: the braces' balanced force and the chord's own by hand") {
  design::Design design = tee();
  frame::Frame& f = design.frame;
  f.tubes = {{"chord", frame::RectangularTube{60, 60, 4, 0}, "steel"},
             {"brace", frame::RectangularTube{30, 30, 3, 0}, "steel"}};
  f.nodes = {
      {"A", {0, 0, 0}}, {"J", {400, 0, 0}}, {"B", {800, 0, 0}}, {"T", {200, 0, 200}}, {"U", {600, 0, 200}}};
  frame::Member other = f.members[1];
  other.id = "c";
  other.nodes = {"J", "U"};
  f.members.push_back(other);
  joints::Weld& w = design.welds[0];
  w.shares_given = true;
  w.k_share = 1;
  w.gap_mm = 10;
  joints::Weld second = w;
  second.id = "V";
  second.member = "c";
  second.partner = "W";
  w.partner = "V";
  design.welds.push_back(second);
  const Tee k(design);
  // One brace is pulled, the other pushed, along their axes at 45 degrees: in each 1000 N over 4 x 3 x 27
  // mm2, in the chord 1000 cos 45 on either side of the joint over 4 x 4 x 56 mm2, pushed towards A, pulled
  // from B.
  const double c = 1000 * std::sqrt(0.5);
  frame::LoadCase load;
  load.id = "pair";
  load.loads = {{"T", {-c, 0, c}, frame::Vec3::Zero()}, {"U", {-c, 0, -c}, frame::Vec3::Zero()}};
  const auto u = frame::Statics(k.assembly).solve(frame::case_load(k.assembly, load)).displacements;
  const Eigen::VectorXd forces = frame::section_force_map(k.assembly) * u.col(0);
  const joints::SquareKScf scf = joints::square_k_scf({60, 4, 30, 3, 45, 10});
  const double brace = 1000 / 324.0, chord = c / 896;
  int seen = 0, silent = 0;
  for (const Site& s : k.sites) {
    if (s.weld != 0 || (s.kind != "weld" && s.kind != "brace-toe" && s.kind != "chord-toe")) continue;
    if (s.evidence.coverage == Coverage::none) {  // bending, for which nothing is published
      ++silent;
      continue;
    }
    const double own = s.angle_deg == 0 ? -chord : chord;
    const double expected =
        s.kind == "brace-toe" ? scf.brace * brace : scf.chord * brace + scf.chord_loading * own;
    INFO(s.kind.name << " " << s.angle_deg);
    CHECK(s.row.dot(forces) == Approx(expected).epsilon(1e-6));
    ++seen;
  }
  CHECK(seen == 4);
  CHECK(silent == 1);
}
