// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/solid/slit_tip.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "engine/solid/slit.h"
#include "tests/engine/solid/grid.h"

namespace seamwright::solid {

namespace cracked {

constexpr double pi = std::numbers::pi;
const Elastic steel{206000, 0.3};
constexpr double width = 10, length = 60, thick = 1;

struct Strip {
  TetMesh mesh;
  double crack = 0;
};

// A strip along x, cracked at its middle from y = 0 on; so many elements along the crack.
Strip strip_with(double share, int along_crack) {
  const int across = static_cast<int>(std::lround(along_crack / share));
  Strip s{grid({6 * across, across, 1}, [](const Vec3& u) { return Vec3(length * u.x(), width * u.y(), thick * u.z()); }), share * width};
  for (std::size_t t = 0; t < s.mesh.tets.size(); ++t) {
    Vec3 centre(0, 0, 0);
    for (std::size_t i = 0; i < 4; ++i) centre += s.mesh.nodes.col(s.mesh.tets[t][i]) / 4;
    s.mesh.piece[t] = centre.y() > s.crack ? 0 : centre.x() < length / 2 ? 1 : 2;
  }
  open_slits(s.mesh, {{PieceKind::weld, -1}, {PieceKind::member, 1}, {PieceKind::member, 2}}, {});
  return s;
}

RigidEnd strip_end(const TetMesh& mesh, double x) {
  return {{x, width / 2, thick / 2}, nodes_where(mesh, [=](const Vec3& p) { return std::abs(p.x() - x) < 1e-9; })};
}

// Tada, Paris & Irwin, The Stress Analysis of Cracks Handbook, single edge notch in pure bending, 0.5 % for any depth [from memory].
double shape_in_bending(double share) {
  const double half = pi * share / 2;
  return std::sqrt(std::tan(half) / half) * (0.923 + 0.199 * std::pow(1 - std::sin(half), 4)) / std::cos(half);
}

double intensity_found(const Strip& s) {
  const SupportedBody body{s.mesh, steel, {strip_end(s.mesh, 0), strip_end(s.mesh, length)}, {}};
  const UnitAnswers a = unit_answers(body, solved);
  FrontStep step;
  step.nodes = nodes_where(s.mesh, [&](const Vec3& p) {
    return std::abs(p.x() - length / 2) < 1e-9 && std::abs(p.y() - s.crack) < 1e-9 && std::abs(p.z() - thick / 2) > 0.4 * thick;
  });
  REQUIRE(step.nodes.size() == 2);
  step.ways.assign(2, Vec3(0, 1, 0));
  step.opened_mm2 = thick;
  return std::sqrt(steel.youngs_mpa * energy_set_free(body, a.moved, step)(5, 5));  // a thin sheet: plane stress
}

TEST_CASE("the energy of a crack that grows gives the handbook's stress intensity, with one element along the crack too") {
  // One element along the crack misses up to a sixth of it, four a twenty-fifth; never more than there is.
  for (const auto& [share, elements, least] : {std::tuple{0.5, 1, 0.83}, {0.5, 4, 0.96}, {1.0 / 3, 1, 0.92}, {1.0 / 3, 3, 0.975}}) {
    const Strip s = strip_with(share, elements);
    const double stress = 6 / (thick * width * width);
    const double expected = stress * std::sqrt(pi * s.crack) * shape_in_bending(share);
    CAPTURE(share, elements);
    CHECK(intensity_found(s) / expected > least);
    CHECK(intensity_found(s) / expected < 1);
  }
}

}  // namespace cracked

}  // namespace seamwright::solid
