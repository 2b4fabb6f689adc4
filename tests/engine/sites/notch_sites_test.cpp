// SPDX-License-Identifier: GPL-3.0-or-later
// Sites of notches and bolts against beam theory by hand, on a cantilever of 600 mm along x with a force or a
// moment at its free end.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "catalog/published/published_data.h"
#include "engine/frame/statics.h"
#include "engine/joints/notch.h"
#include "engine/sites/sites.h"
#include "tests/engine/rating/short_demo.h"

using namespace seamwright;
using namespace seamwright::sites;
using namespace seamwright::rating;

namespace {

using std::numbers::pi;

struct Cantilever {
  design::Design design;
  std::vector<Site> sites;
  Eigen::VectorXd forces;

  explicit Cantilever(const frame::Section& section) {
    frame::Frame& f = design.frame;
    f.materials = {{"steel", 210000, 0.3, 7850, 0, 0}};
    f.tubes = {{"section", section, "steel"}};
    f.nodes = {{"A", {0, 0, 0}}, {"B", {600, 0, 0}}};
    frame::Member m;
    m.id = "m";
    m.tube = "section";
    m.nodes = {"A", "B"};
    f.members = {m};
    f.supports = {{"A", {true, true, true, true, true, true}}};
  }
  void run(const frame::Vec3& force, const frame::Vec3& moment, const rules::RuleSet* set = &rules::en1993) {
    const frame::Assembly assembly = frame::assemble(design.frame, frame::Footing::supports);
    rules::Rules rules;
    rules.set = set;
    sites = make_sites(design, design.frame, assembly, rules, published::catalog().data);
    frame::LoadCase load;
    load.id = "end";
    load.loads = {{"B", force, moment}};
    const auto u = frame::Statics(assembly).solve(frame::case_load(assembly, load)).displacements;
    forces = frame::section_force_map(assembly) * u.col(0);
  }
  const Site& site(const std::string& kind, double angle) const {
    const auto at = std::find_if(sites.begin(), sites.end(), [&](const Site& s) {
      return s.kind == kind && std::abs(s.angle_deg - angle) < 1e-9;
    });
    REQUIRE(at != sites.end());
    return *at;
  }
  double stress(const std::string& kind, double angle) const { return site(kind, angle).row.dot(forces); }
};

design::Notch notch(const char* kind, double at_mm) {
  design::Notch n;
  n.id = "N";
  n.kind = kind;
  n.member = "m";
  n.at_mm = at_mm;
  return n;
}

}  // namespace

TEST_CASE("a shoulder: nominal stress of the small section at its place times the factors") {
  Cantilever c(frame::SolidBar{24});
  design::Notch n = notch("shoulder", 150);
  n.shoulder = {24, 20, 1};
  c.design.notches = {n};
  c.run({5000, 0, 1000}, {30000, 0, 0});
  const auto f = joints::shoulder_factors(n.shoulder);
  const double tension = f.tension * 5000 / (pi / 4 * 400),
               bending = f.bending * 1000 * 450 / (pi / 32 * 8000);
  CHECK(c.stress("notch", 0) == Approx(tension - bending).epsilon(1e-6));  // lifted at its end: top pressed
  CHECK(c.stress("notch", 180) == Approx(tension + bending).epsilon(1e-6));
  CHECK(c.stress("notch", 90) == Approx(tension).epsilon(1e-6));
  CHECK(std::abs(c.stress("notch-shear", 0)) == Approx(f.torsion * 30000 / (pi / 16 * 8000)).epsilon(1e-6));
  CHECK(c.site("notch", 0).curve->id == "125");
  CHECK(name_of(c.sites[c.site("notch", 45).beside]) == "notch-shear@0");
  c.run({5000, 0, 1000}, {30000, 0, 0}, &rules::dnv);
  CHECK(c.site("notch", 0).curve->id == "C");
  CHECK(c.site("notch", 0).evidence.coverage == Coverage::extended);
  CHECK(std::abs(c.site("notch", 0).shear.dot(c.forces)) ==
        Approx(f.torsion * 30000 / (pi / 16 * 8000)).epsilon(1e-6));
}

TEST_CASE("a hole: three times the direct stress and four times the shear and by EN the net section") {
  const double d = 30, t = 1.5, hole = 5;
  const double area = pi / 4 * (d * d - (d - 2 * t) * (d - 2 * t));
  for (const rules::RuleSet* set : rules::rule_sets) {
    Cantilever c(frame::RoundTube{d, t});
    design::Notch n = notch("hole", 300);
    n.hole_mm = hole;
    n.faces = {0, 0, 1};
    c.design.notches = {n};
    const double scale = set == &rules::en1993 ? area / (area - hole * t) / 3 : 1;
    c.run({3000, 0, 0}, {0, 0, 0}, set);
    CHECK(c.stress("notch", 90) == Approx(scale * 3 * 3000 / area).epsilon(1e-6));
    CHECK(c.stress("notch", 0) == Approx(-scale * 3000 / area).epsilon(1e-6));
    c.run({0, 0, 0}, {20000, 0, 0}, set);
    const double shear = 20000 / (2 * pi * std::pow((d - t) / 2, 2) * t);
    CHECK(std::abs(c.stress("notch", 45)) == Approx(scale * 4 * shear).epsilon(1e-6));
    CHECK(c.stress("notch", 135) == Approx(-c.stress("notch", 45)).epsilon(1e-9));
  }
}

TEST_CASE("a thread: bending and tension on the stress area, class 50 by EN alone") {
  Cantilever c(frame::SolidBar{10});
  design::Notch n = notch("thread", 0);
  n.thread = {10, 1.5};
  c.design.notches = {n};
  c.run({1000, 0, 0}, {0, 0, 0});
  CHECK(c.stress("notch", 45) == Approx(1000 / 57.99).epsilon(1e-3));
  CHECK(c.site("notch", 45).curve->id == "50");
  c.run({1000, 0, 0}, {0, 0, 0}, &rules::iiw);
  CHECK(c.site("notch", 45).evidence.coverage == Coverage::none);
}

TEST_CASE("a seat without a factor is not covered and with one it is extended and names who found it") {
  Cantilever c(frame::RoundTube{40, 3});
  c.design.notches = {notch("seat", 10)};
  c.run({1000, 0, 0}, {0, 0, 0});
  REQUIRE(c.sites.size() == 1);
  CHECK(c.sites[0].evidence.coverage == Coverage::none);
  c.design.notches[0].factor = 2.5;
  c.design.notches[0].factor_source = "our own finite elements";
  c.run({1000, 0, 0}, {0, 0, 0});
  CHECK(c.stress("notch", 0) == Approx(2.5 * 1000 / (pi / 4 * (1600 - 34 * 34))).epsilon(1e-6));
  CHECK(c.site("notch", 0).evidence.coverage == Coverage::extended);
  CHECK(c.site("notch", 0).evidence.source.clause == "our own finite elements");
}

TEST_CASE("bolts on a circle: force, moment, shear and torsion by statics") {
  Cantilever c(frame::SolidBar{30});
  design::BoltCircle b;
  b.id = "B";
  b.member = "m";
  b.thread = {8, 1.25};
  b.count = 4;
  b.circle_mm = 60;
  b.prying = 1.3;
  c.design.bolts = {b};
  c.run({2000, 0, 0}, {0, 0, 0});
  CHECK(c.stress("bolt", 90) == Approx(1.3 * 500 / 36.61).epsilon(1e-3));
  CHECK(c.site("bolt", 90).curve->id == "50");
  c.run({0, 0, 0}, {0, 50000, 0});
  // Four bolts on 30 mm: the pair across the axis carries M / 60.
  const double most = std::max({std::abs(c.stress("bolt", 0)), std::abs(c.stress("bolt", 90)),
                                std::abs(c.stress("bolt", 180)), std::abs(c.stress("bolt", 270))});
  CHECK(most == Approx(1.3 * 50000.0 / 60 / 36.61).epsilon(1e-3));
  c.run({0, 0, 0}, {24000, 0, 0});
  CHECK(std::abs(c.stress("bolt-shear", 0)) == Approx(24000.0 / (4 * 30) / (pi / 4 * 64)).epsilon(1e-6));
  c.run({0, 400, 0}, {0, 0, 0});
  double squares = 0;
  const Site& shear = c.site("bolt-shear", 90);
  squares += std::pow(shear.row.dot(c.forces), 2) + std::pow(shear.shear.dot(c.forces), 2);
  CHECK(std::sqrt(squares) == Approx(100 / (pi / 4 * 64)).epsilon(1e-6));
}
