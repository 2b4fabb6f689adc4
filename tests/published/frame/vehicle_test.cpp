// SPDX-License-Identifier: GPL-3.0-or-later
// A nearly rigid three-wheeler on its tyres against the rigid vehicle's closed forms: heave z, pitch th, roll
// ph with K = T' diag(k) T and M = diag(m, Iyy, Ixx) (T. D. Gillespie, Fundamentals of Vehicle Dynamics,
// 1992, chapter 5; derived). m 200 kg, centre 0.45 m behind the front axle, wheelbase 1.30 m, track 0.80 m,
// centre 0.75 m high, Iyy 40, Ixx 20 kg m2, front tyres 100 N/mm each, rear 120 N/mm.
#include <cmath>
#include <numbers>

#include "tests/engine/frame/small_frames.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::frame;
using seamwright::outside::WithinAbs;
using seamwright::outside::WithinRel;

namespace {

constexpr double behind = 450, wheelbase = 1300, track = 800, centre_height = 750, radius = 250;

/// Massless, very stiff bars from the wheels to the centre. Lateral tyre springs act at the ground; without
/// them the roll axis passes through the centre.
Frame stiff_trike(double lateral_n_mm, double youngs_mpa = 1e9) {
  Material stiff = steel();
  stiff.density_kg_m3 = 0;
  stiff.youngs_mpa = youngs_mpa;
  Frame f = frame_of(RoundTube{120, 20}, stiff);
  const double front = wheelbase;
  f.nodes = {{"FL", {front, track / 2, radius}},
             {"FR", {front, -track / 2, radius}},
             {"R", {0, 0, radius}},
             {"centre", {front - behind, 0, centre_height}}};
  f.members = {member("axle", {"FL", "FR"}), member("left", {"FL", "centre"}),
               member("right", {"FR", "centre"}), member("rear", {"R", "centre"})};
  f.masses = {{"body", 200, {front - behind, 0, centre_height}, {"centre"}, {20, 40, 30}}};
  f.wheels = {{"FL", "FL", radius, 100, lateral_n_mm, 250, 0},
              {"FR", "FR", radius, 100, lateral_n_mm, 250, 0},
              {"R", "R", radius, 120, lateral_n_mm, 300, 0}};
  return f;
}

}  // namespace

TEST_CASE("body modes of a nearly rigid trike without lateral tyre stiffness") {
  SOURCE(closed_form,
         "Rigid vehicle of heave, pitch and roll, after Gillespie, Fundamentals of Vehicle Dynamics (1992), "
         "chapter 5; derived",
         "the bars are stiff, not rigid");
  const Modes m = modes(assemble(stiff_trike(0), Footing::tyres), 30);
  // Free along x, along y and in yaw; then heave with a little pitch, roll about the centre, pitch.
  REQUIRE(m.frequency_hz.size() == 6);
  for (int i = 0; i < 3; ++i) CHECK(m.frequency_hz[i] == 0);
  CHECK_THAT(m.frequency_hz[3], WithinAbs(6.34365, 5e-4));
  CHECK_THAT(m.frequency_hz[4], WithinAbs(6.36620, 5e-4));
  CHECK_THAT(m.frequency_hz[5], WithinAbs(8.99093, 5e-4));
}

TEST_CASE("damping of the body modes") {
  SOURCE(closed_form,
         "Rigid vehicle of heave, pitch and roll, after Gillespie, Fundamentals of Vehicle Dynamics (1992), "
         "chapter 5; derived",
         "the bars are stiff, not rigid");
  const Assembly a = assemble(stiff_trike(0), Footing::tyres);
  const Modes m = modes(a, 30);
  REQUIRE(m.frequency_hz.size() == 6);
  const double expected[] = {0.04982, 0.05000, 0.07061};
  for (int i = 0; i < 3; ++i) {
    const Eigen::VectorXd shape = m.shapes.col(3 + i);
    const double omega = 2 * std::numbers::pi * m.frequency_hz[3 + i];
    CHECK_THAT(shape.dot(a.damping * shape) / (2 * omega), WithinAbs(expected[i], 2e-5));
  }
}

// Roll about the ground: laterally stiff tyres hold the contact points, I = Ixx + m h2. Gravity's part (m g
// h) is not in the linear stiffness of the frame: sqrt(32000 / (20 + 112.5)) / 2 pi.
TEST_CASE("roll of a nearly rigid trike with laterally stiff tyres") {
  SOURCE(closed_form, "sqrt(K / (Ixx + m h^2)) about the ground; derived",
         "tyres are stiff sideways, not rigid");
  const Modes m = modes(assemble(stiff_trike(1e6), Footing::tyres), 30);
  REQUIRE(m.frequency_hz.size() == 4);
  CHECK(m.frequency_hz[0] == 0);
  CHECK_THAT(m.frequency_hz[1], WithinAbs(std::sqrt(32000 / 132.5) / (2 * std::numbers::pi), 1e-3));
}

// Three wheels are statically determinate, so a frame of steel gives the rigid loads too: F_front = m g b / L
// / 2 each, F_rear = m g a / L, g = 9.80665 m/s2.
TEST_CASE("static wheel loads") {
  SOURCE(closed_form, "Statics: m g b / L / 2 at each front wheel, m g a / L at the rear",
         "digits of the evaluation");
  const Assembly a = assemble(stiff_trike(60, 205000), Footing::tyres);
  const Solution s = Statics(a).solve(gravity_load(a));
  const Eigen::VectorXd force =
      -(a.tyre_radial.transpose() * s.displacements.col(0)).cwiseProduct(a.tyre_stiffness);
  CHECK_THAT(force[0], WithinAbs(641.204, 5e-4));
  CHECK_THAT(force[1], WithinAbs(641.204, 5e-4));
  CHECK_THAT(force[2], WithinAbs(678.922, 5e-4));
  CHECK_THAT(force.sum(), WithinRel(200 * 9.80665, 1e-9));
  CHECK_THAT(s.reactions.cwiseAbs().maxCoeff(), WithinAbs(0, 1e-5));
  CHECK(s.residual[0] < 1e-9);
}
