// SPDX-License-Identifier: GPL-3.0-or-later
// Weld groups against the handbook's closed forms: unit polar second moment of two parallel lines of length d
// at distance b, J = d (3 b^2 + d^2) / 6, and unit second moment d^2 / 6 for bending (Shigley's Mechanical
// Engineering Design, tables of weld properties [from memory]; rederived by integration).

#include "engine/joints/weld_group.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::joints;
using seamwright::outside::Expected;

namespace {
constexpr double d = 50, b = 30;
const std::vector<WeldLine> lines{{{0, 0, 0}, {0, d, 0}}, {{b, 0, 0}, {b, d, 0}}};

Eigen::Vector3d force_at(const Eigen::Vector3d& at, const Eigen::Vector3d& force,
                         const Eigen::Vector3d& moment) {
  Eigen::Matrix<double, 6, 1> load;
  load << force, moment;
  return line_force_map(lines, at) * load;
}
}  // namespace

TEST_CASE("a force through the centroid spreads evenly over the weld's length") {
  SOURCE(closed_form, "Statics of weld lines", "rounding of the arithmetic");
  CHECK(centroid_of(lines).isApprox(Eigen::Vector3d(b / 2, d / 2, 0)));
  const Eigen::Vector3d f = force_at({b, d, 0}, {100, -200, 300}, {0, 0, 0});
  CHECK(f.isApprox(Eigen::Vector3d(100, -200, 300) / (2 * d)));
}

TEST_CASE("torsion in the plane of two parallel weld lines") {
  SOURCE(closed_form,
         "Shigley's Mechanical Engineering Design, weld properties: J = d (3 b^2 + d^2) / 6 [from memory; "
         "rederived]",
         "rounding of the arithmetic");
  const double j = d * (3 * b * b + d * d) / 6, m = 1e5;
  const Eigen::Vector3d f = force_at({b, d, 0}, {0, 0, 0}, {0, 0, m});
  CHECK(f.x() == Expected(-m * d / 2 / j));
  CHECK(f.y() == Expected(m * b / 2 / j));
  CHECK(f.z() == Expected(0).margin(1e-9));
}

TEST_CASE("bending of two parallel weld lines, across and along them") {
  SOURCE(closed_form,
         "Shigley's Mechanical Engineering Design, weld properties: d^2 / 3 for two lines [from memory; "
         "rederived]",
         "rounding of the arithmetic");
  const double m = 1e5;
  // The moment acts about x: I = 2 d^3 / 12, so the section modulus of both lines is d^2 / 3.
  CHECK(force_at({b, d, 0}, {0, 0, 0}, {m, 0, 0}).z() == Expected(m / (d * d / 3)));
  // The moment acts about y: a pair of forces on the two lines.
  CHECK(force_at({b, 10, 0}, {0, 0, 0}, {0, m, 0}).z() == Expected(-m / (b * d)));
}

TEST_CASE("weld lines without length or in one line are refused") {
  CHECK_THROWS_AS(line_force_map({{{0, 0, 0}, {0, 0, 0}}}, {0, 0, 0}), Fault);
  CHECK_THROWS_AS(line_force_map({{{0, 0, 0}, {0, 9, 0}}}, {0, 0, 0}), Fault);
}
