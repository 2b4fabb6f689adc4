// SPDX-License-Identifier: GPL-3.0-or-later
// A nearly rigid three-wheeler on a road of ISO 8608:2016 class C (256e-6 m3, from memory) against the rigid
// vehicle's three equations of heave, pitch and roll (T. D. Gillespie, Fundamentals of Vehicle Dynamics,
// 1992, chapter 5; derived and integrated independently in steps of 0.01 Hz). m 200 kg, centre 0.45 m behind
// the front axle and 0.75 m high, wheelbase 1.30 m, track 0.80 m, Iyy 40, Ixx 20 kg m2, tyres 100 and 120
// N/mm, 250 and 300 N s/m.
#include <Eigen/Geometry>
#include <cmath>
#include <complex>
#include <numbers>

#include "engine/loads/wheel_loads.h"
#include "tests/engine/loads/small_states.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::loads;
using seamwright::outside::WithinAbs;
using seamwright::outside::WithinRel;

namespace {

struct Vehicle {
  State state = make_state(stiff_trike(), 0, 60);
  Transfer transfer{state, 0};
};

/// 0.25 to 40 Hz at 15 km/h.
Road band(double gd_n0_m3) {
  Road r = class_c();
  r.gd_n0_m3 = gd_n0_m3;
  r.min_cycles_m = 0.25 / (15 / 3.6);
  return r;
}

}  // namespace

TEST_CASE("static wheel loads of the vehicle") {
  SOURCE(closed_form, "Statics: m g b / L / 2 at each front wheel, m g a / L at the rear",
         "digits of the evaluation; the solver holds the vehicle by weak springs");
  const WheelLoads w = wheel_loads({200, 1300, 800, 450, 0});
  CHECK_THAT(w.front_left_n, WithinAbs(641.204, 5e-4));
  CHECK_THAT(w.front_right_n, WithinAbs(641.204, 5e-4));
  CHECK_THAT(w.rear_n, WithinAbs(678.922, 5e-4));
  const Vehicle v;
  CHECK_THAT(v.state.static_wheel_load_n[0], WithinAbs(641.204, 1e-2));
  CHECK_THAT(v.state.static_wheel_load_n[1], WithinAbs(641.204, 1e-2));
  CHECK_THAT(v.state.static_wheel_load_n[2], WithinAbs(678.922, 1e-2));
}

TEST_CASE("body modes of the vehicle and their damping") {
  SOURCE(closed_form,
         "Rigid vehicle of heave, pitch and roll, after Gillespie, Fundamentals of Vehicle Dynamics (1992), "
         "chapter 5; derived",
         "the bars are stiff, not rigid");
  const Vehicle v;
  const Eigen::VectorXd hz = v.state.modes.frequency_hz;
  // Sideways and yaw motion on nearly free tyres come first.
  REQUIRE(hz.size() == 5);
  CHECK(hz[1] < 0.5);
  CHECK_THAT(hz[2], WithinRel(6.34365, 5e-4));
  CHECK_THAT(hz[3], WithinRel(6.36620, 5e-4));
  CHECK_THAT(hz[4], WithinRel(8.99093, 5e-4));
  const double ratio[] = {0.04982, 0.05000, 0.07061};
  for (Eigen::Index i = 0; i < 3; ++i) {
    const Eigen::VectorXd shape = v.state.modes.shapes.col(2 + i);
    CHECK_THAT(shape.dot(v.state.assembly.damping * shape) / (4 * std::numbers::pi * hz[2 + i]),
               WithinAbs(ratio[i], 5e-5));
  }
}

// Stiffness of the vehicle: K11 320 kN/m, K12 12 kN, K22 127.2 kN m, K33 32 kN m; through the frame's own
// matrices.
TEST_CASE("stiffness of the vehicle against heave, pitch and roll") {
  SOURCE(closed_form,
         "Rigid vehicle of heave, pitch and roll, after Gillespie, Fundamentals of Vehicle Dynamics (1992), "
         "chapter 5; derived",
         "rounding of the arithmetic");
  const Vehicle v;
  const frame::Assembly& a = v.state.assembly;
  Eigen::MatrixXd rigid = Eigen::MatrixXd::Zero(a.full_size, 3);
  const frame::Frame f = stiff_trike();
  for (std::size_t i = 0; i < f.nodes.size(); ++i) {
    const frame::Vec3 arm = f.nodes[i].position_mm - frame::Vec3(850, 0, 750);
    const auto dof = 6 * static_cast<Eigen::Index>(i);
    rigid(dof + 2, 0) = 1;
    const frame::Vec3 pitch = frame::Vec3::UnitY().cross(arm), roll = frame::Vec3::UnitX().cross(arm);
    rigid.block<3, 1>(dof, 1) = pitch;
    rigid(dof + 4, 1) = 1;
    rigid.block<3, 1>(dof, 2) = roll;
    rigid(dof + 3, 2) = 1;
  }
  const Eigen::MatrixXd k = (a.tyre_radial.transpose() * rigid).transpose() * a.tyre_stiffness.asDiagonal() *
                            (a.tyre_radial.transpose() * rigid);
  CHECK_THAT(k(0, 0), WithinRel(320.0, 1e-9));
  CHECK_THAT(k(0, 1), WithinRel(12000.0, 1e-9));
  CHECK_THAT(k(1, 1), WithinRel(127.2e6, 1e-9));
  CHECK_THAT(k(2, 2), WithinRel(32e6, 1e-9));
  CHECK_THAT(k(0, 2), WithinAbs(0, 1e-6));
}

// The rigid vehicle follows a slow road on its three wheels: z 0.326923, 0.326923, 0.346154; pitch 0.384615,
// 0.384615, 0.769231 and roll 1.25, 1.25, 0 rad per metre.
TEST_CASE("static limit of the vehicle's answer") {
  SOURCE(closed_form,
         "Rigid vehicle of heave, pitch and roll, after Gillespie, Fundamentals of Vehicle Dynamics (1992), "
         "chapter 5; derived",
         "the bars are stiff, not rigid");
  const Vehicle v;
  const Eigen::MatrixXd motion = v.state.moving.shapes * v.transfer.response_at(0).real();
  const auto centre = 6 * static_cast<Eigen::Index>(v.state.assembly.node_index.at("centre"));
  const double heave[] = {326.923, 326.923, 346.154}, pitch[] = {0.384615, 0.384615, 0.769231},
               roll[] = {1.25, 1.25, 0};
  for (Eigen::Index w = 0; w < 3; ++w) {
    CHECK_THAT(motion(centre + 2, w), WithinAbs(heave[w], 0.05));
    CHECK_THAT(std::abs(motion(centre + 4, w)), WithinAbs(pitch[w], 1e-4));
    CHECK_THAT(std::abs(motion(centre + 3, w)), WithinAbs(roll[w], 1e-3));
  }
}

TEST_CASE("wheel force per road height at 8 Hz") {
  SOURCE(closed_form,
         "Rigid vehicle of heave, pitch and roll, after Gillespie, Fundamentals of Vehicle Dynamics (1992), "
         "chapter 5; derived",
         "the bars are stiff, not rigid");
  const Vehicle v;
  const frame::Assembly& a = v.state.assembly;
  const std::complex<double> tyre(100e3, 250 * 2 * std::numbers::pi * 8);
  const Eigen::MatrixXcd contact =
      (a.tyre_radial.transpose() * v.state.moving.shapes) * v.transfer.response_at(8) / 1000;
  CHECK_THAT(std::abs(tyre * (1.0 - contact(0, 0))), WithinRel(202.547e3, 2e-3));
  CHECK_THAT(std::abs(tyre * contact(0, 2)), WithinRel(188.758e3, 2e-3));
}

TEST_CASE("levels of the vehicle on classes C and A at 15 km/h") {
  SOURCE(closed_form,
         "Rigid vehicle of heave, pitch and roll, after Gillespie, Fundamentals of Vehicle Dynamics (1992), "
         "chapter 5; derived; integrated apart in steps of 0.01 Hz",
         "steps of the integration");
  const Vehicle v;
  const Leg leg = leg_of(1, 15);
  const LegLevels c = leg_levels(v.state, v.transfer, band(256e-6), leg, 40, "centre"),
                  a = leg_levels(v.state, v.transfer, band(16e-6), leg, 40, "centre");
  CHECK_THAT(c.seat_acceleration_rms_m_s2, WithinRel(4.8171, 0.005));
  CHECK_THAT(c.wheel_force_sd_n[0], WithinRel(508.38, 0.005));
  CHECK_THAT(c.wheel_force_sd_n[1], WithinRel(508.38, 0.005));
  CHECK_THAT(c.wheel_force_sd_n[2], WithinRel(477.99, 0.005));
  CHECK_THAT(a.seat_acceleration_rms_m_s2, WithinRel(1.2043, 0.005));
  CHECK_THAT(a.wheel_force_sd_n[0], WithinRel(127.10, 0.005));
  CHECK_THAT(a.wheel_force_sd_n[2], WithinRel(119.50, 0.005));
  CHECK_THAT(c.seat_acceleration_rms_m_s2 / a.seat_acceleration_rms_m_s2, WithinRel(4.0, 1e-12));
  for (Eigen::Index i = 0; i < 3; ++i)
    CHECK_THAT(c.wheel_force_sd_n[i] / a.wheel_force_sd_n[i], WithinRel(4.0, 1e-12));
}
