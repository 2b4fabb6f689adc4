// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/solid/supported_body.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

#include "engine/frame/element.h"
#include "engine/solid/mesh_error.h"
#include "engine/solid/slit.h"
#include "engine/solid/surface.h"
#include "tests/engine/solid/grid.h"

namespace seamwright::solid {

namespace {

constexpr double pi = std::numbers::pi;
const Elastic steel{206000, 0.3};

// A tube along x, from 0 to its length.
TetMesh tube(double radius, double wall, double length, std::array<int, 3> n) {
  return grid(
      n, [=](const Vec3& u) {
        const double r = radius - wall + wall * u.x(), angle = 2 * pi * u.y();
        return Vec3(length * u.z(), r * std::cos(angle), r * std::sin(angle));
      },
      {false, true, false});
}

RigidEnd end_at(const TetMesh& mesh, double x) {
  return {{x, 0, 0}, nodes_where(mesh, [=](const Vec3& p) { return std::abs(p.x() - x) < 1e-9; })};
}

}  // namespace

TEST_CASE("a linear field of displacements gives one stress everywhere, in distorted elements too") {
  // The patch test: Irons & Razzaque 1972; Zienkiewicz, Taylor & Zhu 2005, chapter 9.
  TetMesh mesh = grid({2, 2, 2}, [](const Vec3& u) { return Vec3(10 * u.x(), 8 * u.y() + u.x(), 6 * u.z()); });
  mesh.nodes.col(nodes_where(mesh, [](const Vec3& p) { return (p - Vec3(5, 4.5, 3)).norm() < 1e-9; }).at(0)) += Vec3(0.4, -0.3, 0.2);
  Eigen::Matrix3d gradient;
  gradient << 1e-3, 2e-4, -3e-4, 5e-4, -2e-3, 1e-4, 7e-4, -4e-4, 6e-4;
  Eigen::VectorXd moved(3 * mesh.nodes.cols());
  for (int n = 0; n < static_cast<int>(mesh.nodes.cols()); ++n) moved.segment<3>(3 * n) = gradient * mesh.nodes.col(n);
  const Eigen::Matrix3d strain = (gradient + gradient.transpose()) / 2;
  const double lame = steel.youngs_mpa * steel.poisson / (1.3 * 0.4), shear = steel.youngs_mpa / 2.6;
  const Eigen::Matrix3d stress = lame * strain.trace() * Eigen::Matrix3d::Identity() + 2 * shear * strain;
  double volume = 0;
  for (const Tet& t : mesh.tets) {
    Eigen::VectorXd own(30);
    for (int i = 0; i < 10; ++i) own.segment<3>(3 * i) = moved.segment<3>(3 * t[static_cast<std::size_t>(i)]);
    const Corners places = corners_of(mesh, t);
    const Eigen::VectorXd found = nodal_stress_map(places, steel) * own;
    for (int i = 0; i < 10; ++i) {
      CHECK(found[6 * i] == Approx(stress(0, 0)).epsilon(1e-9));
      CHECK(found[6 * i + 3] == Approx(stress(0, 1)).epsilon(1e-9));
      CHECK(found[6 * i + 5] == Approx(stress(0, 2)).epsilon(1e-9));
    }
    const TetMatrices m = tet_matrices(places, steel);
    CHECK(m.least_jacobian > 0);
    volume += m.volume_mm3;
    // Rigid motions cost nothing.
    Eigen::VectorXd turned(30);
    for (int i = 0; i < 10; ++i) turned.segment<3>(3 * i) = Vec3(0.1, -0.2, 0.3) + Vec3(1e-3, 2e-3, 3e-3).cross(Vec3(places.col(i)));
    CHECK((m.stiffness * turned).norm() < 1e-8 * m.stiffness.norm());
  }
  CHECK(volume == Approx(480));
}

TEST_CASE("a straight tube is as stiff as a beam") {
  // EA/L, and Timoshenko's stiffness matrix (Przemieniecki 1968, section 5.6) for bending and torsion. Mesh and rigid ends, which hold
  // the wall round, make it stiffer by less than a hundredth.
  const double radius = 20, wall = 2, length = 400;
  const TetMesh mesh = tube(radius, wall, length, {1, 24, 24});
  const SupportedBody body{mesh, steel, {end_at(mesh, 0), end_at(mesh, length)}, {}};
  const UnitAnswers a = unit_answers(body, solved);
  const frame::RoundTube section{2 * radius, wall};
  const auto beam = frame::element_stiffness({frame::section_properties(section, steel.poisson).properties, steel.youngs_mpa,
                                              steel.poisson, 0, length, false});
  const Eigen::MatrixXd f = beam.bottomRightCorner<6, 6>().inverse();
  for (const auto& [row, column] : {std::pair{0, 0}, {1, 1}, {2, 2}, {3, 3}, {4, 4}, {5, 5}, {1, 5}, {2, 4}})
    CHECK(a.flexibility(row, column) == Approx(f(row, column)).epsilon(0.01));
  CHECK(a.volume_mm3 == Approx(pi * (20 * 20 - 18 * 18) * length).epsilon(1e-4));
  CHECK((a.flexibility - a.flexibility.transpose()).norm() < 1e-9 * a.flexibility.norm());
  CHECK(a.residual < 1e-6);
  CHECK(a.reaction < 1e-6);

  SECTION("the stress on its surface is that of a beam, and a cut through it carries the load") {
    const PartSurface surface(body, a.moved, std::vector<bool>(mesh.tets.size(), true), {{200, 20, 0}}, 60);
    const auto top = surface.stress_at({200, 20, 0}, 0.5);
    REQUIRE(top);
    const double area = pi * 38 * 2, inertia = pi / 4 * (std::pow(20.0, 4) - std::pow(18.0, 4));
    CHECK((*top)(0, 0) == Approx(1 / area).epsilon(0.01));
    CHECK((*top)(0, 1) == Approx(-200 * 20 / inertia).epsilon(0.01));  // a force along y at the end, 200 mm on
    CHECK_FALSE(surface.stress_at({200, 30, 0}, 0.5));
    std::vector<bool> far;
    for (const Tet& t : mesh.tets) far.push_back(mesh.nodes(0, t[0]) + mesh.nodes(0, t[1]) + mesh.nodes(0, t[2]) + mesh.nodes(0, t[3]) > 4 * 200);
    std::vector<bool> on_far(static_cast<std::size_t>(mesh.nodes.cols())), on_near(on_far);
    for (std::size_t t = 0; t < far.size(); ++t)
      for (const int n : mesh.tets[t]) (far[t] ? on_far : on_near)[static_cast<std::size_t>(n)] = true;
    std::vector<int> between;
    for (std::size_t n = 0; n < on_far.size(); ++n)
      if (on_far[n] && on_near[n]) between.push_back(static_cast<int>(n));
    const Eigen::MatrixXd forces = nodal_forces(body, far, between, a.moved);
    Vec3 sum(0, 0, 0), moment(0, 0, 0);
    for (std::size_t i = 0; i < between.size(); ++i) {
      const Vec3 force = forces.col(1).segment<3>(3 * static_cast<Eigen::Index>(i));
      sum += force;
      moment += (mesh.nodes.col(between[i]) - Vec3(400, 0, 0)).cross(force);
    }
    // The load's opposite holds the far part, without a moment about the place of the load.
    CHECK(sum.y() == Approx(-1));
    CHECK(std::abs(sum.x()) < 1e-9);
    CHECK(moment.norm() < 1e-6);
  }
}

TEST_CASE("a load on a seat is spread over its nodes and leaves them free") {
  const double radius = 20, wall = 2, length = 200;
  const TetMesh mesh = tube(radius, wall, length, {1, 16, 16});
  const LooseSeat seat{{100, 0, 0}, nodes_where(mesh, [](const Vec3& p) { return std::abs(p.x() - 100) < 20; })};
  const UnitAnswers a = unit_answers({mesh, steel, {end_at(mesh, 0), end_at(mesh, length)}, {seat}}, solved);
  REQUIRE(a.flexibility.rows() == 12);
  CHECK((a.flexibility - a.flexibility.transpose()).norm() < 1e-9 * a.flexibility.norm());
  // A force along x spread evenly from 80 to 120 mm: the middle of these moves by (80 + 40 / 3) / EA, the tube's end by 100 / EA.
  const double area = pi * 38 * 2;
  CHECK(a.flexibility(6, 6) == Approx((80 + 40.0 / 3) / (steel.youngs_mpa * area)).epsilon(0.02));
  CHECK(a.flexibility(0, 6) == Approx(100 / (steel.youngs_mpa * area)).epsilon(0.02));
  CHECK(a.reaction < 1e-6);
}

TEST_CASE("what hangs free is an error, and so is an element turned inside out") {
  TetMesh mesh = tube(20, 2, 100, {1, 8, 4});
  CHECK_THROWS_AS(unit_answers({mesh, steel, {end_at(mesh, 0), end_at(mesh, 50.5)}, {}}, solved), std::runtime_error);
  const SupportedBody body{mesh, steel, {end_at(mesh, 0), end_at(mesh, 100)}, {}};
  CHECK_NOTHROW(unit_answers(body, solved));
  TetMesh apart = mesh;
  for (std::size_t t = 0; t < apart.tets.size(); ++t) {
    const Vec3 centre = (apart.nodes.col(apart.tets[t][0]) + apart.nodes.col(apart.tets[t][1]) + apart.nodes.col(apart.tets[t][2])) / 3;
    apart.piece[t] = centre.x() > 50 ? 1 : 0;
  }
  const int before = static_cast<int>(apart.nodes.cols());
  CHECK(open_slits(apart, {{PieceKind::member, 0}, {PieceKind::member, 1}}, {{0, 1}}) == 0);
  CHECK(open_slits(apart, {{PieceKind::member, 0}, {PieceKind::other, 1}}, {}) == 0);
  CHECK(open_slits(apart, {{PieceKind::weld, -1}, {PieceKind::member, 1}}, {}) == 0);
  CHECK(open_slits(apart, {{PieceKind::member, 0}, {PieceKind::member, 1}}, {}) > 8);
  CHECK(apart.nodes.cols() > before);
  CHECK_THROWS_AS(unit_answers({apart, steel, {end_at(apart, 0), end_at(apart, 100)}, {}}, solved), std::runtime_error);
  std::swap(mesh.tets[0][0], mesh.tets[0][1]);
  CHECK_THROWS_WITH(unit_answers(body, solved), Catch::Contains("inside out"));
}

TEST_CASE("the error of a mesh is told by its jumps of stress: none in a straight pull, less with smaller elements") {
  const auto error_of = [](std::array<int, 3> n, Eigen::Index column) {
    const TetMesh mesh = tube(20, 2, 100, n);
    const SupportedBody body{mesh, steel, {end_at(mesh, 0), end_at(mesh, 100)}, {}};
    const UnitAnswers a = unit_answers(body, solved);
    // Off the ends, which hold the wall round.
    std::vector<bool> middle;
    for (const Tet& t : mesh.tets) middle.push_back(std::abs(mesh.nodes(0, t[0]) - 50) < 30);
    return mesh_error(body, middle, a.moved, Eigen::VectorXd::Unit(6, column));
  };
  CHECK(error_of({1, 24, 24}, 0) < 0.01);
  const double coarse = error_of({1, 8, 6}, 1), fine = error_of({1, 24, 18}, 1);
  CHECK(coarse > 2 * fine);
  CHECK(fine < 0.1);
  const TetMesh mesh = tube(20, 2, 100, {1, 8, 4});
  CHECK(mesh_error({mesh, steel, {}, {}}, std::vector<bool>(mesh.tets.size(), true), Eigen::MatrixXd::Zero(3 * mesh.nodes.cols(), 1),
                   Eigen::VectorXd::Ones(1)) == 0);
}

}  // namespace seamwright::solid
