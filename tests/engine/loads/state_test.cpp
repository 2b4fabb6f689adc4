// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/state.h"

#include <limits>

#include "tests/engine/frame/trike.h"
#include "tests/engine/loads/small_states.h"

using namespace seamwright;
using namespace seamwright::loads;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using frame::fault_of;
using frame::trike;

namespace {

Rider rider() {
  Rider r;
  r.mass_kg = 80;
  r.saddle_share = 0.6;
  r.pedal_share = 0.3;
  r.bar_share = 0.1;
  r.vertical_frequency_hz = 5;
  r.vertical_damping = 0.475;
  r.height_above_saddle_mm = 250;
  return r;
}

Carriers carriers() {
  return {"seat", "crank", {"bar", "pivot"}, {"FL", "FR", "front L", "front R"}, {1450, 0, 500}};
}

frame::Frame bare() {
  frame::Frame f = trike();
  f.sprung_masses.clear();
  return f;
}

double total_kg(const frame::Frame& f) {
  const frame::Assembly a = frame::assemble(f, frame::Footing::tyres);
  return 1000 * a.rise.dot(a.mass * a.rise);
}

}  // namespace

TEST_CASE("rider and payload add their masses where they act") {
  const frame::Frame f = laden_frame(bare(), carriers(), rider(), 70);
  CHECK_THAT(total_kg(f) - total_kg(bare()), WithinRel(150, 1e-9));
  REQUIRE(f.sprung_masses.size() == 1);
  CHECK_THAT(f.sprung_masses[0].mass_kg, WithinRel(48, 1e-12));
  CHECK(f.sprung_masses[0].sprung.size() == 1);
  CHECK(f.sprung_masses[0].position_mm == frame::Vec3(150, 0, 950));
  REQUIRE(f.masses.size() == bare().masses.size() + 4);
  const std::size_t first = bare().masses.size();
  CHECK(f.masses[first].nodes == std::vector<std::string>{"crank"});
  CHECK_THAT(f.masses[first].mass_kg, WithinRel(24, 1e-12));
  CHECK_THAT(f.masses[first + 1].mass_kg, WithinRel(4, 1e-12));
  CHECK(f.masses[first + 3].nodes.size() == 4);
  CHECK(f.masses[first + 3].position_mm == frame::Vec3(1450, 0, 500));
}

TEST_CASE("shares of nothing add nothing") {
  CHECK(laden_frame(bare(), {}, {}, 0).masses.size() == bare().masses.size());
  Rider seated = rider();
  seated.saddle_share = 1;
  seated.pedal_share = seated.bar_share = 0;
  seated.lateral_frequency_hz = 2;
  seated.lateral_damping = 0.3;
  const frame::Frame f = laden_frame(bare(), {"seat", "", {}, {}, {}}, seated, 0);
  CHECK(f.masses.size() == bare().masses.size());
  REQUIRE(f.sprung_masses.size() == 1);
  CHECK(f.sprung_masses[0].sprung.size() == 2);
}

TEST_CASE("impossible riders and payloads are refused") {
  const auto refused = [](auto change, double payload = 0) {
    Rider r = rider();
    Carriers c = carriers();
    change(r, c);
    return fault_of([&] { laden_frame(bare(), c, r, payload); }).id;
  };
  const double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK(refused([](Rider& r, Carriers&) { r.bar_share = 0.2; }) == "loads.rider-shares");
  CHECK(refused([nan](Rider& r, Carriers&) { r.mass_kg = nan; }) == "frame.bad-number");
  CHECK(refused([nan](Rider& r, Carriers&) { r.vertical_damping = nan; }) == "frame.bad-number");
  CHECK(refused([](Rider& r, Carriers&) { r.vertical_frequency_hz = 0; }) == "frame.bad-number");
  CHECK(refused([](Rider&, Carriers& c) { c.saddle_node = "nowhere"; }) == "frame.unknown-node");
  CHECK(refused([](Rider&, Carriers& c) { c.pedal_node = ""; }) == "frame.unknown-node");
  CHECK(refused([](Rider&, Carriers& c) { c.bar_nodes = {}; }) == "loads.no-carrier");
  CHECK(refused([](Rider&, Carriers& c) { c.box_nodes = {}; }, 10) == "loads.no-carrier");
  CHECK(refused([](Rider&, Carriers& c) { c.box_nodes[0] = "x"; }, 10) == "frame.unknown-node");
  CHECK(refused([](Rider&, Carriers&) {}, -1) == "frame.bad-number");
}

TEST_CASE("the state stands in equilibrium on its tyres") {
  const frame::Frame f = laden_frame(bare(), carriers(), rider(), 70);
  const State s = make_state(f, 70, 60);
  CHECK(s.payload_kg == 70);
  CHECK(s.static_residual < 1e-9);
  CHECK_THAT(s.held_reaction_n, WithinAbs(0, 1e-5));
  CHECK_THAT(s.static_wheel_load_n.sum(), WithinRel(total_kg(f) * 9.80665, 1e-7));
  CHECK(s.static_wheel_load_n.minCoeff() > 0);
  CHECK(s.tracks.size() == 3);
  CHECK_THAT(s.tracks[0].x_m, WithinRel(1.3, 1e-12));
  CHECK_THAT(s.tracks[1].y_m, WithinRel(-0.4, 1e-12));
  CHECK_THAT(s.tracks[2].contact_length_m, WithinRel(0.04, 1e-12));
}

TEST_CASE("modes are kept without the free roll and remainders are beside them") {
  const State s = make_state(trike(), 0, 60);
  const Eigen::Index n = s.modes.frequency_hz.size();
  REQUIRE(n > 5);
  CHECK(s.modes.frequency_hz[0] > 0.1);
  CHECK(s.modes.frequency_hz[n - 1] <= 60);
  // Three tyres, three pushes, the dampers of steering and rider; not one twice, though a tyre's spring and
  // damper push along one line.
  const Eigen::MatrixXd& shapes = s.moving.shapes;
  const Eigen::Index all = shapes.cols(), kept = all - 8;
  CHECK(kept == frame::modes(s.assembly, 90).frequency_hz.size() - 1);  // less the free roll
  CHECK(s.moving.omega_rad_s.tail(8).minCoeff() > s.moving.omega_rad_s[kept - 1]);
  // Orthonormal through mass and stiffness, so nothing counts twice.
  const Eigen::MatrixXd mass = shapes.transpose() * (s.assembly.mass * shapes);
  CHECK((mass - Eigen::MatrixXd::Identity(all, all)).cwiseAbs().maxCoeff() < 1e-6);
  const Eigen::VectorXd per_omega = s.moving.omega_rad_s.cwiseInverse();
  const Eigen::MatrixXd stiffness = per_omega.asDiagonal() *
                                    (shapes.transpose() * (s.assembly.stiffness * shapes)).eval() *
                                    per_omega.asDiagonal();
  CHECK((stiffness - Eigen::MatrixXd::Identity(all, all)).cwiseAbs().maxCoeff() < 1e-6);
}

TEST_CASE("faults of the frame reach the caller") {
  frame::Frame free = trike();
  for (frame::Wheel& w : free.wheels) w.lateral_n_mm = 0;
  CHECK(fault_of([&] { make_state(free, 0, 60); }).id == "frame.mechanism");
  frame::Frame bare_wheels = trike();
  bare_wheels.wheels.clear();
  CHECK(fault_of([&] { make_state(bare_wheels, 0, 60); }).id == "frame.no-wheel");
  CHECK(fault_of([] { make_state(trike(), 0, std::numeric_limits<double>::quiet_NaN()); }).id ==
        "frame.bad-number");
}
