// SPDX-License-Identifier: GPL-3.0-or-later
// The demonstration trike steered, and its mass and centre.
#include "engine/loads/steering.h"

#include <Eigen/Geometry>
#include <catch2/catch.hpp>
#include <cmath>

#include "engine/design/weld_geometry.h"
#include "engine/loads/mass_balance.h"
#include "engine/loads/stability.h"
#include "tests/engine/rating/short_demo.h"

using namespace seamwright;
using namespace seamwright::loads;

namespace {

frame::Vec3 at(const frame::Frame& f, const std::string& id) {
  for (const frame::Node& n : f.nodes)
    if (n.id == id) return n.position_mm;
  throw Fault{Message{"frame.unknown-node", {text("node", id)}}};
}

std::string refusal(const design::Design& d, const Steering& s, double angle) {
  try {
    steered_frame(d.frame, s, angle);
  } catch (const Fault& fault) {
    return fault.what();
  }
  return "";
}

}  // namespace

TEST_CASE("steering turns the front about the pivot and leaves the rear") {
  const design::Design d = rating::short_demo().design;
  const frame::Frame f = steered_frame(d.frame, d.steering, 30);
  const frame::Vec3 pivot = at(d.frame, "Pf");
  CHECK((at(f, "RW") - at(d.frame, "RW")).norm() == 0);
  CHECK((at(f, "SAD") - at(d.frame, "SAD")).norm() == 0);
  CHECK((at(f, "Pf") - at(f, "Pr")).norm() < 1e-9);
  for (const char* id : {"W.L", "W.R", "E.L"}) {
    const frame::Vec3 before = at(d.frame, id) - pivot, after = at(f, id) - pivot;
    CHECK(after.norm() == Approx(before.norm()).epsilon(1e-12));
    CHECK(after.z() == Approx(before.z()).margin(1e-9));  // the axis is upright
    CHECK(std::atan2(before.x() * after.y() - before.y() * after.x(), before.head<2>().dot(after.head<2>())) *
              180 / 3.14159265358979 ==
          Approx(30).epsilon(1e-9));
  }
  for (const frame::Wheel& w : f.wheels) CHECK(w.heading_deg == (w.id == "R" ? 0 : 30));
  // A turn to and fro is nothing; both sides mirror each other.
  const frame::Frame right = steered_frame(d.frame, d.steering, -30);
  CHECK(at(right, "W.L").x() == Approx(at(f, "W.R").x()).epsilon(1e-12));
  CHECK(at(right, "W.L").y() == Approx(-at(f, "W.R").y()).epsilon(1e-12));
}

TEST_CASE("what gives way at a joint turns with the front, and so does a joint's body") {
  design::Design d = rating::short_demo().design;
  d.flexible_joints = true;
  frame::Frame straight = design::frame_with_cuts(d);
  frame::JointBody body;
  body.id = "body";
  body.nodes = {"C.L"};
  straight.bodies = {body};
  body.nodes = {"BB"};
  straight.bodies.push_back(body);
  const frame::Frame f = steered_frame(straight, d.steering, 30);
  Eigen::Matrix<double, 6, 6> turn = Eigen::Matrix<double, 6, 6>::Zero();
  turn.topLeftCorner<3, 3>() = turn.bottomRightCorner<3, 3>() =
      Eigen::AngleAxisd(30 * 3.14159265358979323846 / 180, Eigen::Vector3d::UnitZ()).toRotationMatrix();
  int turned = 0;
  for (std::size_t i = 0; i < f.members.size(); ++i) {
    const auto &before = straight.members[i].start_flexibility, &after = f.members[i].start_flexibility;
    if (before == after) continue;
    ++turned;
    CHECK((after - turn * before * turn.transpose()).norm() < 1e-9 * before.norm());
  }
  CHECK(turned > 10);
  CHECK((f.bodies[0].axes - turn.topLeftCorner<3, 3>().transpose()).norm() < 1e-9);
  CHECK(f.bodies[1].axes == Eigen::Matrix3d::Identity());
}

TEST_CASE("steering refuses what cannot be") {
  const design::Design d = rating::short_demo().design;
  CHECK(refusal(d, {"none", 40, 40}, 10) == "loads.no-steering");
  CHECK(refusal(d, d.steering, 41) == "loads.beyond-stop");
  CHECK(refusal(d, d.steering, -41) == "loads.beyond-stop");
  CHECK(refusal(d, d.steering, std::nan("")) == "loads.beyond-stop");
  design::Design stiff = d;
  frame::Member bar;
  bar.id = "bar-across";
  bar.tube = stiff.frame.tubes[0].id;
  bar.nodes = {"BB", "C.L"};
  stiff.frame.members.push_back(bar);
  CHECK(refusal(stiff, d.steering, 10) == "loads.not-steered");
}

TEST_CASE("mass and centre agree with the wheel loads") {
  const rating::Job job = rating::short_demo();
  for (const double payload : {0.0, 100.0})
    for (const double angle : {0.0, 25.0}) {
      const frame::Frame f =
          steered_frame(laden_frame(job.design.frame, job.design.carriers, job.duty.rider, payload),
                        job.design.steering, angle);
      const State s = make_state(f, payload, 20);
      const auto b = balance_of(f, s.assembly);
      INFO(payload << " kg at " << angle << " deg");
      CHECK(s.static_wheel_load_n.sum() == Approx(b.mass_kg * 9.80665).epsilon(1e-6));
      frame::Vec3 moment = frame::Vec3::Zero();
      for (std::size_t i = 0; i < f.wheels.size(); ++i)
        moment += s.static_wheel_load_n[static_cast<Eigen::Index>(i)] * at(f, f.wheels[i].node);
      CHECK(moment.x() / (b.mass_kg * 9.80665) == Approx(b.centre_mm.x()).epsilon(1e-5));
      CHECK(moment.y() / (b.mass_kg * 9.80665) == Approx(b.centre_mm.y()).margin(0.01));
      CHECK(s.held_reaction_n == Approx(0).margin(1e-3));
    }
}

TEST_CASE("stability of the demonstration from stop to stop") {
  const rating::Job job = rating::short_demo();
  const Stability s = stability(job.design.frame, job.design.carriers, job.duty.rider, job.design.steering,
                                {Pose{}, Pose{100, 0, 0, 0}}, 5);
  REQUIRE(s.cases.size() == 10);
  CHECK_FALSE(s.tips_at_rest);
  CHECK(std::abs(s.cases[s.lowest].pose.steering_deg) == Approx(40));
  CHECK(s.cases[s.lowest].pose.payload_kg == 0);  // the load in front holds it down
  for (const StabilityCase& c : s.cases)
    CHECK(s.lowest_m_s2 <= std::min(c.left.acceleration_m_s2, c.right.acceleration_m_s2));
  // Left and right mirror each other but for the drive and the steering link.
  CHECK(s.cases[0].right.acceleration_m_s2 == Approx(s.cases[4].left.acceleration_m_s2).epsilon(0.01));
}
