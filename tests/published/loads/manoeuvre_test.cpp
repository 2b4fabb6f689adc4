// SPDX-License-Identifier: GPL-3.0-or-later
// Load transfer in corners and when braking by handbook statics (m a h over track, m a h over wheelbase), on
// the nearly rigid three-wheeler of 200 kg; pedal, chain and drive by equilibrium.
#include "engine/loads/manoeuvres.h"
#include "engine/loads/pulses.h"

#include <cmath>
#include <numbers>

#include "tests/engine/loads/small_states.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::loads;
using seamwright::outside::Expected;

namespace {

struct Loaded {
  Carriers carriers;
  Rider rider;
  Drive drive{170, 135, 80, 40, 45, 0, Motor::none};
  PosedTrike trike;

  explicit Loaded(frame::Frame frame = stiff_trike())
      : carriers{"centre", "centre", {}, {}, frame::Vec3::Zero()},
        trike(Pose{}, held(std::move(frame)), carriers, rider, {}) {
    rider.mass_kg = 200;
    rider.saddle_share = 1;
  }
  static frame::Frame held(frame::Frame frame) {
    for (frame::Wheel& w : frame.wheels) w.lateral_n_mm = 60;
    return frame;
  }
  Eigen::VectorXd pedal(double side) const { return pedal_load(trike, carriers, rider, drive, side, 1, 0); }
  /// Change of the three wheels' loads on the ground, N.
  Eigen::Vector3d loads(const Eigen::VectorXd& load) const {
    return trike.wheel_loads(trike.displacements(load).col(0));
  }
};

}  // namespace

TEST_CASE("a corner shifts load to the outer wheel, and nothing to the rear") {
  SOURCE(closed_form, "Statics: m a h over the track", "the bars are stiff, not rigid");
  const Loaded v;
  const Eigen::Vector3d change = v.loads(corner_load(v.trike, 2));  // m/s2 to the left
  CHECK(change[0] == Expected(266.204 - 641.204).epsilon(1e-4));
  CHECK(change[1] == Expected(1016.204 - 641.204).epsilon(1e-4));
  CHECK(change[2] == Expected(0).margin(0.05));
}

TEST_CASE("braking shifts load to the front axle") {
  SOURCE(closed_form, "Statics: m a h over the wheelbase", "the bars are stiff, not rigid");
  const Loaded v;
  const Eigen::Vector3d change = v.loads(brake_load(v.trike, {0.4, 0.4, 0.2}, 3));
  CHECK(change[0] + change[1] == Expected(1628.562 - 1282.408).epsilon(1e-4));
  CHECK(change[2] == Expected(332.768 - 678.922).epsilon(1e-4));
  CHECK(change[0] == Expected(change[1]).epsilon(1e-6));
}

TEST_CASE("pedals leave the weight as it is and mirror each other in roll") {
  SOURCE(closed_form, "Equilibrium of rider, drive and inertia", "the bars are stiff, not rigid");
  const Loaded v;
  const Eigen::Vector3d left = v.loads(v.pedal(1)), right = v.loads(v.pedal(-1));
  // The drive pushes forward on the ground and inertia back at the centre, 750 mm up; the foot presses a
  // crank's length ahead of saddle and bracket: D h - F L over the wheelbase goes from front to rear.
  const double drive = 170.0 / 80 * 40 / 250;
  for (const Eigen::Vector3d& change : {left, right}) {
    CHECK(change.sum() == Expected(0).margin(1e-6));
    CHECK(change[2] == Expected((drive * 750 - 170) / 1300).epsilon(1e-3));
  }
  CHECK(left[0] - left[1] ==
        Expected(right[0] - right[1]).margin(1e-3));  // saddle and pedal balance each other in roll
}

TEST_CASE("the chain presses the rear frame together, by hand at the rear axle") {
  SOURCE(closed_form, "Equilibrium of the rear axle", "the bars are stiff, not rigid");
  // One member meets the axle: along it push the chain, the drive forward and the change of the wheel's load.
  const Loaded v;
  REQUIRE(v.trike.assembly().elements[3].id == "rear");
  const double chain = 170.0 / 80, drive = chain * 40 / 250, length = std::hypot(850, 500);
  const double wheel = (drive * 750 - 170) / 1300;
  // The chain is tangent to both circles: 40 mm nearer to the line of centres at the sprocket.
  const double along = std::sqrt(1 - std::pow(40 / length, 2));
  for (const double side : {1.0, -1.0}) {
    const Eigen::VectorXd u = v.trike.displacements(v.pedal(side)).col(0);
    const frame::Vector12 forces = frame::section_forces(v.trike.assembly().elements[3], u);
    CHECK(forces[0] ==
          Expected(-(chain * along + drive * 850 / length + wheel * 500 / length)).epsilon(1e-3));
    // 45 mm beside the member the chain bends it; nothing else at the axle does so sideways.
    CHECK(std::hypot(forces[3], forces[4]) == Expected(chain * 45).epsilon(1e-3));
  }
}

TEST_CASE("a brake's torque enters at its mount as a pair of forces") {
  SOURCE(closed_form, "Equilibrium of the brake mount", "rounding of the arithmetic");
  // 200 N m on an arm of 100 mm: 2000 N square to the arm, and back at the axle.
  frame::Frame f = stiff_trike();
  f.nodes.push_back({"mount", {1300, 400, 350}});
  frame::Member arm;
  arm.id = "arm";
  arm.tube = f.members[0].tube;
  arm.nodes = {"FL", "mount"};
  f.members.push_back(arm);
  f.wheels[0].torque_node = "mount";
  const Loaded v(f);
  // All braking at the left front wheel: 200 kg * 4 m/s2 = 800 N at 250 mm radius.
  const Eigen::VectorXd load = brake_load(v.trike, {1, 0, 0}, 4);
  const auto at = [&](const char* node) {
    return Eigen::Vector3d(
        load.segment<3>(6 * static_cast<Eigen::Index>(v.trike.assembly().node_index.at(node))));
  };
  CHECK(at("mount").x() == Expected(2000).epsilon(1e-9));
  CHECK(at("mount").tail<2>().norm() == Expected(0).margin(1e-9));
  CHECK(at("FL").x() == Expected(-800 - 2000).epsilon(1e-9));
  // The same load transfer as with the torque at the axle.
  CHECK(v.loads(load)[2] == Expected(-200 * 4 * 750 / 1300.0).epsilon(1e-3));
}

TEST_CASE("camber moves the contact outwards by the handbook's geometry, and tyres push inwards") {
  SOURCE(closed_form, "R sin and R cos of the camber angle", "digits of the evaluation");
  // Centre circle 235 mm, section 23.5 mm, 3 degrees: 12.299 mm outwards (R sin).
  frame::Frame f = stiff_trike();
  for (frame::Wheel& w : f.wheels) {
    if (w.id == "R") continue;
    w.radius_mm = 258.5;
    w.section_radius_mm = 23.5;
    w.camber_deg = 3;
  }
  CHECK(frame::contact_arm_mm(f.wheels[0]).y() == Expected(12.299).epsilon(1e-4));
  CHECK(frame::contact_arm_mm(f.wheels[1]).y() == Expected(-12.299).epsilon(1e-4));
  CHECK(frame::contact_arm_mm(f.wheels[0]).z() ==
        Expected(-(235 * std::cos(3 * std::numbers::pi / 180) + 23.5)));
  CHECK(frame::contact_arm_mm(f.wheels[2]).y() == 0);
  // 0.01 per degree of 641 N: 19.2 N towards the middle on either side.
  for (frame::Wheel& w : f.wheels) w.camber_thrust_per_deg = 0.01;
  const Loaded v(f);
  const Eigen::VectorXd thrust =
      camber_thrust(v.trike.frame(), v.trike.assembly(), Eigen::Vector3d(641, 641, 679));
  CHECK(thrust[1] == Expected(-19.23).epsilon(1e-9));
  CHECK(thrust[7] == Expected(19.23).epsilon(1e-9));
}

TEST_CASE("who answers a push on the pedal: saddle, other foot, hands") {
  SOURCE(closed_form, "Equilibrium of the rider", "rounding of the arithmetic");
  Rider rider;
  rider.mass_kg = 80;
  rider.saddle_share = 0.65;
  rider.pedal_share = 0.25;
  Drive drive;
  drive.bar_pull_share = 0.3;
  const double weight = 80 * 9.80665;
  for (const double force : {100.0, 400.0, 800.0, 2000.0}) {
    const PedalReaction r = pedal_reaction(force, rider, drive);
    CHECK(r.near_hand + r.saddle + r.other_foot + r.both_hands == Expected(force).epsilon(1e-12));
    CHECK(r.saddle <= 0.65 * weight + 1e-9);
    CHECK(r.other_foot <= 0.125 * weight + 1e-9);
    CHECK(r.near_hand == Expected(0.3 * force));
  }
  CHECK(pedal_reaction(400, rider, drive).other_foot == 0);
  CHECK(pedal_reaction(2000, rider, drive).both_hands > 0);
}

TEST_CASE("trains hold as many pulses as the leg asks for") {
  SOURCE(closed_form, "Impulse of a half sine: 2/pi of height times time", "200 steps a second");
  // 200 s at 200 Hz.
  const Leg leg = leg_of(1, 18);
  CHECK(times_in(leg, 2.5) == 3);
  const Eigen::MatrixXd bends = pulse_shapes({"bend", 4, 3}, 2, 200, 40000, 0, 40000);
  CHECK(bends.maxCoeff() == Expected(1).epsilon(1e-4));
  const auto rises = [](const Eigen::MatrixXd& h, Eigen::Index row) {
    int count = 0;
    for (Eigen::Index i = 1; i < h.cols(); ++i) count += h(row, i - 1) == 0 && h(row, i) != 0;
    return count;
  };
  CHECK(rises(bends, 0) == 2);
  CHECK(rises(bends, 1) == 2);
  // Impulse of a half sine: 2/pi of its height times its time.
  CHECK(bends.sum() / 200 == Expected(4 * 3 * 2 / std::numbers::pi).epsilon(1e-3));
  const Eigen::MatrixXd pedals = pulse_shapes({"pedalling", 400, 0}, 2, 200, 40000, 0, 40000);
  CHECK(rises(pedals, 0) + rises(pedals, 1) >= 399);
  CHECK(pedals.row(0).cwiseProduct(pedals.row(1)).maxCoeff() == 0);  // one foot at a time
  int rests = 0;                                                     // and nothing between the feet
  for (Eigen::Index i = 0; i < pedals.cols(); ++i) rests += pedals(0, i) == 0 && pedals(1, i) == 0;
  CHECK(rests >= 399);
  // A part of a leg has the same pulses as the whole, also where it cuts one.
  for (const Eigen::Index first : {0, 4999, 5000, 23456})
    CHECK(pulse_shapes({"pedalling", 400, 0}, 2, 200, 40000, first, 7000) == pedals.middleCols(first, 7000));
  CHECK(pulse_shapes({"bend", 4, 3}, 2, 200, 40000, 14900, 300) == bends.middleCols(14900, 300));
}
