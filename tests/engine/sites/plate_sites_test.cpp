// SPDX-License-Identifier: GPL-3.0-or-later
// Sites of plates against statics by hand.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "catalog/published/published_data.h"
#include "engine/design/weld_geometry.h"
#include "engine/frame/statics.h"
#include "engine/sites/sites.h"
#include "tests/engine/rating/short_demo.h"
#include "tests/engine/rating/tee.h"

using namespace seamwright;
using namespace seamwright::sites;
using namespace seamwright::rating;

namespace {

/// The tee's chord with a plate on top at J in the place of the brace, or its brace slotted over a plate at
/// T.
struct Plated {
  design::Design design = tee();
  std::vector<Site> sites;
  Eigen::VectorXd forces;

  Plated(const rules::RuleSet* set, const frame::LoadCase& load) {
    design.frame.supports = {{"A", {true, true, true, true, true, true}},
                             {"B", {true, true, true, true, true, true}}};
    load_ = load;
    set_ = set;
  }
  void run() {
    const frame::Frame cut = design::frame_with_cuts(design);
    const frame::Assembly assembly = frame::assemble(cut, frame::Footing::supports);
    rules::Rules rules;
    rules.set = set_;
    sites = make_sites(design, cut, assembly, rules, published::catalog().data);
    const auto u = frame::Statics(assembly).solve(frame::case_load(assembly, load_)).displacements;
    forces = frame::section_force_map(assembly) * u.col(0);
  }
  const Site& site(const std::string& kind, double angle) const {
    const auto at = std::find_if(sites.begin(), sites.end(),
                                 [&](const Site& s) { return s.kind == kind && s.angle_deg == angle; });
    REQUIRE(at != sites.end());
    return *at;
  }
  double stress(const std::string& kind, double angle) const { return site(kind, angle).row.dot(forces); }
  double other(const std::string& kind, double angle) const { return site(kind, angle).shear.dot(forces); }

 private:
  frame::LoadCase load_;
  const rules::RuleSet* set_ = &rules::dnv;
};

frame::LoadCase at(const char* node, const frame::Vec3& force, const frame::Vec3& moment) {
  frame::LoadCase c;
  c.id = "c";
  c.loads = {{node, force, moment}};
  return c;
}

void stand_plate(Plated& p, const char* kind) {
  joints::Weld& w = p.design.welds[0];
  w.kind = kind;
  w.layout = joints::Layout::plate_on_tube;
  w.member.clear();
  w.plate_mm = 4;
  w.line_mm = 40;
  w.stands = {0.3, 0, 1};  // the part along the chord does not count
  p.design.frame.members.pop_back();
  p.design.frame.nodes.pop_back();
}

void slot(Plated& p) {
  joints::Weld& w = p.design.welds[0];
  w.kind = "tube-plate";
  w.layout = joints::Layout::slotted;
  w.chord.clear();
  w.node = "T";
  w.at_start = false;
  w.plate_mm = 5;
  w.line_mm = 30;
  w.plate_normal = {0, 1, 0};
}

}  // namespace

TEST_CASE("a plate's welds carry what its chord's forces jump by") {
  // 1000 N up and 50 N m about y on the node stand for the plate; the weld lines lie 30 mm above the axis.
  Plated p(&rules::en1993, at("J", {200, 0, 1000}, {0, 50000, 0}));
  stand_plate(p, "box-bracket");
  p.run();
  const double throat = 2, length = 2 * 40, moment = 50000 - 200 * 30;  // about the foot: M - r x F
  // Both lines bend about y over their length: modulus 40^2/3 for two lines.
  const double lift = 1000 / length, bend = moment / (40.0 * 40 / 3);
  // A moment about +y presses the end towards +x down.
  CHECK(p.stress("root", 45) == Approx((lift + bend) / throat).epsilon(1e-6));
  CHECK(p.stress("root", 135) == Approx((lift - bend) / throat).epsilon(1e-6));
  CHECK(p.stress("root", 315) == Approx(p.stress("root", 45)).epsilon(1e-6));
  CHECK(p.other("root", 45) == Approx(0).margin(1e-6));
  CHECK(std::abs(p.stress("root-shear", 45)) == Approx(200 / length / throat).epsilon(1e-6));
}

TEST_CASE("a plate that bears on a thin tube is not covered at its toe and one without load is") {
  for (const rules::RuleSet* set : rules::rule_sets) {
    Plated p(set, at("J", {0, 0, 1000}, {0, 0, 0}));
    stand_plate(p, "gusset");
    p.run();
    CHECK(p.site("chord-toe", 0).evidence.coverage == Coverage::none);
    CHECK(p.site("chord-wall", 0).curve != nullptr);
    p.design.welds[0].carries_load = false;
    p.run();
    CHECK(p.sites.size() == 2);
  }
}

TEST_CASE("an attachment's length chooses the category") {
  const std::vector<std::pair<double, std::string>> rows{{50, "80"},   {50.1, "71"}, {80, "71"},
                                                         {80.1, "63"}, {100, "63"},  {100.1, "56"}};
  for (const auto& [length, category] : rows) {
    Plated p(&rules::en1993, at("J", {0, 0, 1000}, {0, 0, 0}));
    stand_plate(p, "gusset");
    p.design.welds[0].line_mm = length;
    p.run();
    CHECK(p.site("chord-wall", 180).curve->id == category);
  }
}

TEST_CASE("a slotted tube: net section at the slots' ends and four weld lines") {
  Plated p(&rules::en1993, at("T", {0, 0, 3000}, {0, 0, 0}));
  slot(p);
  p.run();
  const double area = std::numbers::pi / 4 * (30 * 30 - 26 * 26);
  CHECK(p.stress("brace-toe", 0) == Approx(3000 / (area - 2 * 2 * 5)).epsilon(1e-6));
  CHECK(p.site("brace-toe", 0).curve->id == "63");
  // Pulled along, each line carries a quarter: F / (4 L a).
  for (const double angle : {5.0, 175.0, 185.0, 355.0}) {
    CHECK(std::abs(p.stress("root-shear", angle)) == Approx(3000 / (4 * 30 * 2.0)).epsilon(1e-6));
    CHECK(p.stress("root", angle) == Approx(0).margin(1e-6));
  }
}

TEST_CASE("a slotted tube bent in the plate's plane: a pair of forces between the slots") {
  Plated p(&rules::dnv, at("T", {0, 0, 0}, {0, 60000, 0}));
  slot(p);
  p.run();
  // Second polar moment about the plate's normal: four lines of 30 at 15 to the side, and their own length.
  const double j = 4 * 30 * 15.0 * 15.0 + 4 * std::pow(30.0, 3) / 12, along = 60000 * 15 / j / 2;
  const double across = 60000 * 15 / j / 2;  // half the lines' length away
  CHECK(std::abs(p.stress("root", 5)) == Approx(across).epsilon(1e-6));
  const double both = std::sqrt(0.2) * along;
  CHECK(std::abs(p.other("root", 5)) == Approx(both).epsilon(1e-6));
  CHECK(p.other("root", 10) == Approx(-p.other("root", 5)).epsilon(1e-6));
}

TEST_CASE("a proven root takes the class of one-sided full penetration, an unproven one the throat too") {
  for (const auto& [set, wall, throat] : {std::tuple{&rules::en1993, "71", "36*"},
                                          {&rules::iiw, "FAT71", "FAT36w"},
                                          {&rules::dnv, "F3", "W3"}}) {
    INFO(name_of(set));
    Plated p(set, at("T", {0, 0, 1000}, {0, 0, 0}));
    p.run();
    const double area = std::numbers::pi / 4 * (30 * 30 - 26 * 26);
    CHECK(p.site("root", 0).curve->id == throat);
    CHECK(p.site("root", 0).at_least);
    CHECK(p.site("root", 0).evidence.coverage == Coverage::extended);
    CHECK(p.site("root-wall", 0).at_least);  // perhaps it is fused
    CHECK(p.stress("root", 0) == Approx(1000 / area * 2 / p.design.welds[0].throat_mm).epsilon(1e-6));
    p.design.welds[0].root_proven = true;
    p.design.welds[0].root_proof = "M-1";
    p.run();
    CHECK(std::none_of(p.sites.begin(), p.sites.end(),
                       [](const Site& s) { return s.kind == "root" || s.kind == "root-shear"; }));
    CHECK(p.site("root-wall", 0).curve->id == wall);
    CHECK_FALSE(p.site("root-wall", 0).at_least);
    CHECK(p.site("root-wall", 0).evidence.coverage == Coverage::extended);
    CHECK(p.stress("root-wall", 0) == Approx(1000 / area).epsilon(1e-6));
  }
}

TEST_CASE("a root along a plate is no root of a tube node: it decides, outside the rule's range") {
  Plated p(&rules::en1993, at("J", {0, 0, 1000}, {0, 0, 0}));
  stand_plate(p, "gusset");
  p.run();
  CHECK_FALSE(p.site("root", 45).at_least);
  CHECK(p.site("root", 45).evidence.coverage == Coverage::extended);
}
