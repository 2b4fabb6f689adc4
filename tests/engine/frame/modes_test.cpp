// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/frame/modes.h"

#include <Eigen/Dense>
#include <cmath>
#include <numbers>

#include "tests/engine/frame/trike.h"

using namespace seamwright;
using namespace seamwright::frame;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// The trike with every member cut into pieces, so that the sparse solver is used.
Frame fine_trike(int pieces) {
  Frame f = trike();
  for (Member& m : f.members) {
    if (m.axial_only) continue;
    std::vector<std::string> nodes{m.nodes.front()};
    for (std::size_t k = 0; k + 1 < m.nodes.size(); ++k) {
      const auto place = [&](const std::string& id) {
        for (const Node& n : f.nodes)
          if (n.id == id) return n.position_mm;
        return Vec3(0, 0, 0);
      };
      const Vec3 a = place(m.nodes[k]), b = place(m.nodes[k + 1]);
      for (int i = 1; i < pieces; ++i) {
        f.nodes.push_back({m.id + std::to_string(k) + "." + std::to_string(i), a + (b - a) * i / pieces});
        nodes.push_back(f.nodes.back().id);
      }
      nodes.push_back(m.nodes[k + 1]);
    }
    m.nodes = nodes;
  }
  return f;
}

/// All eigenvalues by the dense problem K x = lambda M x on what has mass; independent of the code under
/// test.
Eigen::VectorXd dense_hz(const Assembly& a) {
  const Eigen::MatrixXd k = Eigen::MatrixXd(a.expand.transpose() * a.stiffness * a.expand);
  const Eigen::MatrixXd m = Eigen::MatrixXd(a.expand.transpose() * a.mass * a.expand);
  const double s = 1e3;
  const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> solver(m, k + s * m);
  Eigen::VectorXd theta = solver.eigenvalues().reverse();
  Eigen::VectorXd hz(theta.size());
  for (Eigen::Index i = 0; i < theta.size(); ++i)
    hz[i] = theta[i] > 1e-14 * theta[0] ? std::sqrt(std::max(0.0, 1 / theta[i] - s)) / (2 * std::numbers::pi)
                                        : 1e12;
  return hz;
}

}  // namespace

TEST_CASE("sparse modes are the dense ones, none missed, and mass-normalised") {
  for (const Footing on : {Footing::tyres, Footing::nothing}) {
    const Assembly a = assemble(fine_trike(4), on);
    const Modes m = modes(a, 300);
    CHECK_FALSE(m.dense);
    const Eigen::VectorXd all = dense_hz(a);
    const auto expected = (all.array() <= 300).count();
    REQUIRE(m.frequency_hz.size() == expected);
    REQUIRE(expected > 10);
    for (Eigen::Index i = 0; i < expected; ++i)
      CHECK_THAT(m.frequency_hz[i], WithinAbs(all[i], 1e-6 * all[i] + 2e-2));
    for (Eigen::Index i = 8; i < expected; ++i) CHECK_THAT(m.frequency_hz[i], WithinRel(all[i], 1e-7));
    const Eigen::MatrixXd mass = m.shapes.transpose() * a.mass * m.shapes;
    CHECK((mass - Eigen::MatrixXd::Identity(expected, expected)).cwiseAbs().maxCoeff() < 1e-7);
    const Eigen::MatrixXd k = m.shapes.transpose() * a.stiffness * m.shapes;
    for (Eigen::Index i = 0; i < expected; ++i)
      CHECK_THAT(k(i, i),
                 WithinAbs(std::pow(2 * std::numbers::pi * m.frequency_hz[i], 2), 1e-4 + 1e-7 * k(i, i)));
  }
}

TEST_CASE("rigid modes: one on tyres along x and six and the hinge for a free frame without its link") {
  const auto rigid = [](const Frame& f, Footing on) {
    return (modes(assemble(f, on), 60).frequency_hz.array() == 0).count();
  };
  CHECK(rigid(trike(), Footing::tyres) == 1);
  CHECK(rigid(fine_trike(3), Footing::tyres) == 1);
  CHECK(rigid(trike(), Footing::nothing) == 6);
  Frame f = fine_trike(3);
  std::erase_if(f.members, [](const Member& m) { return m.id == "link"; });
  CHECK(rigid(f, Footing::nothing) == 7);
  CHECK(rigid(f, Footing::tyres) == 2);
}

TEST_CASE("a lower limit keeps the same modes and fewer") {
  const Assembly a = assemble(fine_trike(3), Footing::tyres);
  const Modes all = modes(a, 200), some = modes(a, 30);
  REQUIRE(some.frequency_hz.size() < all.frequency_hz.size());
  REQUIRE(some.frequency_hz.size() > 3);
  CHECK(some.frequency_hz.maxCoeff() <= 30);
  CHECK(all.frequency_hz[some.frequency_hz.size()] > 30);
  for (Eigen::Index i = 0; i < some.frequency_hz.size(); ++i)
    CHECK_THAT(some.frequency_hz[i], WithinRel(all.frequency_hz[i], 1e-8));
}

TEST_CASE("modes of parts without mass") {
  Material m = steel();
  m.density_kg_m3 = 0;
  Frame f = beam(RoundTube{34.9, 1.2}, {0, 0, 0}, {600, 0, 0}, 20, m);
  f.supports = {{"0", clamped}};
  CHECK(modes(assemble(f, Footing::supports), 100).frequency_hz.size() == 0);
  f.masses = {{"tip", 5, {600, 0, 0}, {"20"}, {0, 0, 0}}};
  const Modes tip = modes(assemble(f, Footing::supports), 1000);
  // 3 E I / L^3 with shear, on 5 kg; both planes; the axial mode lies higher: sqrt(E A / (L m)).
  const auto p = section_properties(RoundTube{34.9, 1.2}, m.poisson).properties;
  const double give = std::pow(600, 3) / (3 * 205000 * p.i_y_mm4) + 600 / (80000 * p.shear_area_y_mm2);
  REQUIRE(tip.frequency_hz.size() == 3);
  CHECK_THAT(tip.frequency_hz[0], WithinRel(std::sqrt(1 / (give * 0.005)) / (2 * std::numbers::pi), 1e-8));
  CHECK_THAT(tip.frequency_hz[2],
             WithinRel(std::sqrt(205000 * p.area_mm2 / (600 * 0.005)) / (2 * std::numbers::pi), 1e-8));
  f.masses.clear();
  f.supports.clear();
  CHECK(fault_of([&] { modes(assemble(f, Footing::nothing), 100); }).id == "frame.mechanism");
}

TEST_CASE("of modes with the same frequency none is missed") {
  Frame f;  // six equal cantilevers from one clamped node: each frequency of bending twelve times
  for (int k = 0; k < 6; ++k) {
    const double angle = k * std::numbers::pi / 3;
    const Frame one =
        beam(RoundTube{34.9, 1.2}, {0, 0, 0}, {600 * std::cos(angle), 600 * std::sin(angle), 0}, 12, steel());
    if (k == 0) f = one, f.nodes.clear(), f.members.clear(), f.supports = {{"0", clamped}};
    const auto named = [&](const std::string& id) { return id == "0" ? id : std::to_string(k) + "." + id; };
    for (Node n : one.nodes) {
      if (k > 0 && n.id == "0") continue;
      n.id = named(n.id);
      f.nodes.push_back(n);
    }
    for (Member m : one.members) {
      m.id = std::to_string(k) + "." + m.id;
      for (std::string& n : m.nodes) n = named(n);
      f.members.push_back(m);
    }
  }
  const Modes m = modes(assemble(f, Footing::supports), 400);
  CHECK_FALSE(m.dense);
  REQUIRE(m.frequency_hz.size() == 12);
  for (const double hz : m.frequency_hz) CHECK_THAT(hz, WithinRel(m.frequency_hz[0], 1e-8));
}

TEST_CASE("modes refuse an impossible limit") {
  const Assembly a = assemble(trike(), Footing::tyres);
  for (const double hz : {0.0, -5.0, std::nan(""), 1e300})
    CHECK(fault_of([&] { modes(a, hz); }).id == "frame.bad-number");
}
