// SPDX-License-Identifier: GPL-3.0-or-later
// Load transfer in corners and when braking by handbook statics (m a h over track, m a h over wheelbase), on
// the nearly rigid three-wheeler of 200 kg; pedal, chain and drive by equilibrium.
#include "engine/loads/manoeuvres.h"

#include <cmath>
#include <numbers>

#include "tests/engine/loads/builders.h"

using namespace seamwright;
using namespace seamwright::loads;

namespace {

struct Vehicle {
  frame::Frame frame = stiff_trike();
  frame::Assembly assembly;
  Eigen::MatrixXd solution;
  Duty duty;
  Carriers carriers;

  Vehicle() {
    for (frame::Wheel& w : frame.wheels) w.lateral_n_mm = 60;
    duty.brakes = {0.4, 0.4, 0.2};
    duty.drive = {170, 135, 80, 40, 45, 0};
    Leg leg = leg_of(1, 15);
    leg.pedal_force_n = 1;
    duty.trip.legs = {leg};
    carriers.saddle_node = std::string("centre");
    carriers.pedal_node = std::string("centre");
    assembly = frame::assemble(frame, frame::On::tyres);
    solution = manoeuvre_solutions(frame, assembly, carriers, duty);
  }
  /// Change of the three wheels' loads on the ground for a unit of a channel, N.
  Eigen::Vector3d loads(Eigen::Index channel) const {
    return -assembly.tyre_stiffness.cwiseProduct(assembly.tyre_radial.transpose() * solution.col(channel));
  }
};

}  // namespace

TEST_CASE("a corner shifts load to the outer wheel, and nothing to the rear") {
  const Eigen::Vector3d change = 2 * Vehicle().loads(0);  // 2 m/s2 to the left
  CHECK(change[0] == Approx(266.204 - 641.204).epsilon(1e-4));
  CHECK(change[1] == Approx(1016.204 - 641.204).epsilon(1e-4));
  CHECK(change[2] == Approx(0).margin(0.05));
}

TEST_CASE("braking shifts load to the front axle") {
  const Eigen::Vector3d change = 3 * Vehicle().loads(1);
  CHECK(change[0] + change[1] == Approx(1628.562 - 1282.408).epsilon(1e-4));
  CHECK(change[2] == Approx(332.768 - 678.922).epsilon(1e-4));
  CHECK(change[0] == Approx(change[1]).epsilon(1e-6));
}

TEST_CASE("pedals leave the weight as it is and mirror each other in roll") {
  const Vehicle v;
  const Eigen::Vector3d left = v.loads(2), right = v.loads(3);
  // The drive pushes the centre forward at the axle's height: D h over the wheelbase goes from front to rear,
  // D = 170/80 * 40/250 N.
  const double drive = 170.0 / 80 * 40 / 250;
  for (const Eigen::Vector3d& change : {left, right}) {
    CHECK(change.sum() == Approx(0).margin(1e-6));
    // The push acts at the axle, 250 mm up; inertia at the centre, 750 mm up.
    CHECK(change[2] == Approx(drive * (750 - 250) / 1300).epsilon(1e-3));
  }
  CHECK(left[0] - left[1] ==
        Approx(right[0] - right[1]).margin(1e-3));  // saddle and pedal balance each other in roll
}

TEST_CASE("the chain presses the rear frame together, by hand at the rear axle") {
  // One member meets the axle: along it push the chain, the drive forward and the change of the wheel's load.
  const Vehicle v;
  REQUIRE(v.assembly.elements[3].id == "rear");
  const double chain = 170.0 / 80, drive = chain * 40 / 250, length = std::hypot(850, 500);
  const double wheel = drive * 500 / 1300;
  for (const Eigen::Index pedal : {2, 3}) {
    const frame::Vector12 forces = frame::section_forces(v.assembly.elements[3], v.solution.col(pedal));
    CHECK(forces[0] == Approx(-(chain + drive * 850 / length + wheel * 500 / length)).epsilon(1e-3));
    // 45 mm beside the member the chain bends it; nothing else at the axle does so sideways.
    CHECK(std::abs(forces[4]) == Approx(chain * 45).epsilon(1e-3));
    CHECK(forces[10] == Approx(forces[4]).epsilon(1e-3));
  }
}

TEST_CASE("histories hold as many manoeuvres as the leg asks for") {
  Leg leg = leg_of(1, 18);  // 200 s
  leg.corners_per_km = 4;
  leg.corner_m_s2 = 1.5;
  leg.stops_per_km = 2.5;
  leg.braking_m_s2 = 3;
  leg.pedal_force_n = 250;
  leg.turns_per_km = 200;
  const Eigen::MatrixXd h = manoeuvre_histories(leg, 200, 40000);
  CHECK(h.row(0).maxCoeff() == Approx(1.5).epsilon(1e-4));
  CHECK(h.row(0).minCoeff() == Approx(-1.5).epsilon(1e-4));
  CHECK(h.row(1).maxCoeff() == Approx(3).epsilon(1e-4));
  CHECK(h.row(1).minCoeff() == 0);
  const auto rises = [&](Eigen::Index row) {
    int count = 0;
    for (Eigen::Index i = 1; i < h.cols(); ++i) count += h(row, i - 1) == 0 && h(row, i) != 0;
    return count;
  };
  CHECK(rises(0) == 4);
  CHECK(rises(1) == 3);  // 2.5 rounded up
  CHECK(rises(3) == 200);
  CHECK(h.row(2).cwiseProduct(h.row(3)).maxCoeff() == 0);  // one foot at a time
  int rests = 0;                                           // and nothing between the feet
  for (Eigen::Index i = 0; i < h.cols(); ++i) rests += h(2, i) == 0 && h(3, i) == 0;
  CHECK(rests == 2 * 200 - 1);
  // Impulse of a half sine: 2/pi of its height times its time.
  CHECK(h.row(1).sum() / 200 == Approx(3 * 3 * 2 * 2 / std::numbers::pi).epsilon(1e-3));
}
