// SPDX-License-Identifier: GPL-3.0-or-later
// The balance of a brace's force is found by hand; and the sites of a node with a brace on either side of its
// chord against the same node with its shares given.
#include "catalog/published/published_data.h"
#include "engine/sites/force_balance.h"

#include <algorithm>
#include <catch2/catch.hpp>

#include "engine/design/weld_geometry.h"
#include "engine/frame/statics.h"
#include "engine/sites/sites.h"
#include "tests/engine/rating/short_demo.h"
#include "tests/engine/rating/tee.h"

using namespace seamwright;
using namespace seamwright::sites;
using namespace seamwright::rating;

namespace {

Balance three_forces() {
  Balance b{Row(3), Row(3), Row(3)};
  b.own.insert(0) = 1;
  b.opposite.insert(1) = 1;
  b.beside.insert(2) = 1;
  return b;
}

// A second brace below the first.
design::Design cross() {
  design::Design d = tee();
  d.frame.nodes.push_back({"U", {400, 0, -300}});
  frame::Member below;
  below.id = "u";
  below.tube = "brace";
  below.nodes = {"J", "U"};
  d.frame.members.push_back(below);
  joints::Weld w = d.welds[0];
  w.id = "V";
  w.member = "u";
  d.welds.push_back(w);
  d.frame.supports = {{"A", {true, true, true, true, true, true}},
                      {"B", {true, true, true, true, true, true}}};
  return d;
}

// Stress at the sites of the first weld with forces on the ends of both braces.
Eigen::VectorXd stress_under(const design::Design& d, double above, double below) {
  const frame::Frame cut = design::frame_with_cuts(d);
  const frame::Assembly assembly = frame::assemble(cut, frame::Footing::supports);
  rules::Rules rules;
  const std::vector<Site> sites = make_sites(d, cut, assembly, rules, published::catalog().data);
  frame::LoadCase load;
  load.id = "pull";
  load.loads = {{"T", {0, 0, above}, {0, 0, 0}}, {"U", {0, 0, -below}, {0, 0, 0}}};
  const Eigen::VectorXd u =
      frame::Statics(assembly).solve(frame::case_load(assembly, load)).displacements.col(0);
  const Eigen::VectorXd forces = frame::section_force_map(assembly) * u;
  Eigen::VectorXd stress = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(sites.size()));
  for (std::size_t i = 0; i < sites.size(); ++i)
    if (sites[i].weld == 0) stress[static_cast<Eigen::Index>(i)] = row_under(sites[i], forces).dot(forces);
  return stress;
}

}  // namespace

TEST_CASE("the partner with the other sign comes first, then braces opposite with the same") {
  const Balance b = three_forces();
  const auto shares = [&](double own, double opposite, double beside) {
    const joints::Shares s = shares_of(b, Eigen::Vector3d(own, opposite, beside));
    return std::array<double, 3>{s.y, s.x, s.k};
  };
  CHECK(shares(10, 0, 0) == std::array<double, 3>{1, 0, 0});
  CHECK(shares(10, 10, 0) == std::array<double, 3>{0, 1, 0});
  CHECK(shares(-10, -4, 0)[1] == Approx(0.4));
  CHECK(shares(10, -10, 0) == std::array<double, 3>{1, 0, 0});  // goes straight through the chord
  CHECK(shares(10, 0, -10) == std::array<double, 3>{0, 0, 1});
  CHECK(shares(10, 0, 10) == std::array<double, 3>{1, 0, 0});
  CHECK(shares(10, 20, -4)[1] == Approx(0.6));
  CHECK(shares(10, 20, -4)[2] == Approx(0.4));
  CHECK(shares(10, 2, -30) == std::array<double, 3>{0, 0, 1});
  CHECK(shares(0, 5, 5) == std::array<double, 3>{1, 0, 0});
}

TEST_CASE("both braces pulled make an X joint and one through the other a Y joint") {
  const design::Design free = cross();
  design::Design x = free, y = free;
  for (joints::Weld& w : x.welds) w.x_share = 1, w.shares_given = true;
  for (joints::Weld& w : y.welds) w.shares_given = true;
  const Eigen::VectorXd pulled = stress_under(free, 1000, 1000);
  CHECK((pulled - stress_under(x, 1000, 1000)).norm() < 1e-9 * pulled.norm());
  CHECK((pulled - stress_under(y, 1000, 1000)).norm() > 0.01 * pulled.norm());
  const Eigen::VectorXd through = stress_under(free, 1000, -1000);
  CHECK((through - stress_under(y, 1000, -1000)).norm() < 1e-9 * through.norm());
  // Half of it is balanced: midway between both.
  const Eigen::VectorXd half = stress_under(free, 1000, 500);
  CHECK((half - 0.5 * stress_under(x, 1000, 500) - 0.5 * stress_under(y, 1000, 500)).norm() <
        1e-9 * half.norm());
}

TEST_CASE("without anything opposite there is nothing to find") {
  const design::Design d = tee();
  const frame::Frame cut = design::frame_with_cuts(d);
  const frame::Assembly assembly = frame::assemble(cut, frame::Footing::nothing);
  CHECK(balance_of(d, design::FrameIndex(cut), assembly, d.welds[0]) == nullptr);
}
