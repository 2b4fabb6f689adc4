// SPDX-License-Identifier: GPL-3.0-or-later
// Riding in time steps: against the frequency domain where all is linear, and against statics and free fall
// where wheels lift.
#include "engine/loads/ride.h"

#include <cmath>
#include <numbers>

#include "tests/engine/loads/small_states.h"

using namespace seamwright;
using namespace seamwright::loads;

namespace {

constexpr double rate = 1000;

struct Vehicle {
  State state;
  Transfer transfer;
  explicit Vehicle(double lateral_n_mm = 0.01) : state(made(lateral_n_mm)), transfer(state, 0) {}
  static State made(double lateral_n_mm) {
    frame::Frame f = stiff_trike();
    for (frame::Wheel& w : f.wheels) w.lateral_n_mm = lateral_n_mm;
    return make_state(f, 0, 60);
  }
  std::vector<WheelOnGround> wheels() const {
    std::vector<WheelOnGround> w;
    const char* ids[] = {"FL", "FR", "R"};
    for (std::size_t i = 0; i < 3; ++i) w.push_back({ids[i], state.tracks[i], 250});
    return w;
  }
  /// The rise of a node at a sample, mm.
  double rise(const Ride& r, const std::string& node, Eigen::Index sample) const {
    return rise_row(state, node).dot(r.coordinates.col(sample));
  }
};

Ground wave(double amplitude_m, double hz, double seconds) {
  const auto samples = static_cast<Eigen::Index>(seconds * rate);
  Ground g{rate, Eigen::MatrixXd(3, samples), Eigen::MatrixXd::Zero(3, samples)};
  for (Eigen::Index i = 0; i < samples; ++i)
    g.height_m.col(i).setConstant(amplitude_m *
                                  std::sin(2 * std::numbers::pi * hz * static_cast<double>(i) / rate));
  return g;
}

}  // namespace

TEST_CASE("a small wave is followed as the frequency domain has it") {
  const Vehicle v;
  for (const double hz : {1.0, 6.0, 12.0}) {
    const Ride r = ride(v.state, 0, wave(1e-4, hz, 30), 1);
    CHECK(r.lift_share.maxCoeff() == 0);
    double largest = 0;
    for (Eigen::Index i = r.coordinates.cols() - 1000; i < r.coordinates.cols(); ++i)
      largest = std::max(largest, std::abs(v.rise(r, "centre", i)));
    const Eigen::VectorXcd answer = v.transfer.response_at(hz) * Eigen::VectorXcd::Constant(3, 1e-4);
    const double expected = std::abs((rise_row(v.state, "centre").cast<std::complex<double>>() * answer)(0));
    INFO(hz << " Hz");
    CHECK(largest == Approx(expected).epsilon(0.01));
  }
}

TEST_CASE("a raised ground lifts the whole trike and leaves its wheel loads") {
  const Vehicle v;
  Obstacle kerb;
  kerb.id = std::string("kerb");
  kerb.height_mm = 20;
  const Ground g = ground_over(kerb, v.wheels(), 1, 6, rate);
  const Ride r = ride(v.state, 0, g, 5);
  const Eigen::Index last = r.coordinates.cols() - 1;
  for (const char* node : {"FL", "FR", "R", "centre"})
    CHECK(v.rise(r, node, last) == Approx(20).epsilon(0.01));
}

TEST_CASE("a wheel in the air pulls on nothing") {
  // A drop of 100 mm under all wheels at once: in free fall until the ground comes back.
  const Vehicle v;
  Ground g{rate, Eigen::MatrixXd::Constant(3, 400, -0.1), Eigen::MatrixXd::Zero(3, 400)};
  g.height_m.leftCols(10).setZero();
  const Ride r = ride(v.state, 0, g, 1);
  // The tyres push until they have straightened (6.4 mm of deflection, unloading over a few hundredths of a
  // second); from then on the fall is free.
  const auto z = [&](Eigen::Index i) { return v.rise(r, "centre", i); };
  for (const Eigen::Index i : {60, 80, 100})
    CHECK((z(i + 10) - 2 * z(i) + z(i - 10)) / 100.0 * 1e3 == Approx(-9.80665).epsilon(0.02));
  CHECK(r.lift_share.minCoeff() > 0.1);
  CHECK(r.largest_force_n.maxCoeff() > 2 * v.state.static_wheel_load_n.maxCoeff());
}

TEST_CASE("a drop onto linear tyres stays below the handbook's bound and comes near it") {
  // F/F_st = 1 + sqrt(1 + 2 s/d) for a fall from s onto a spring with static deflection d, without damping
  // (energy; any handbook of mechanics). All wheels at once; heave alone: the stiffness follows the loads.
  frame::Frame f = stiff_trike();
  for (frame::Wheel& w : f.wheels) {
    w.radial_n_mm = w.id == "R" ? 105.8824 : 100;
    w.damping_n_s_m = 1;
  }
  const State s = make_state(f, 0, 60);
  Ground g{rate, Eigen::MatrixXd::Constant(3, 300, -0.03), Eigen::MatrixXd::Zero(3, 300)};
  g.height_m.leftCols(2).setZero();
  const Ride r = ride(s, 0, g, 1);
  const double load = s.static_wheel_load_n[0], deflection = load / 100;
  // The tyre has to straighten first: it falls from 30 mm less its own deflection at rest.
  const double bound = 1 + std::sqrt(1 + 2 * 30 / deflection);
  CHECK(r.largest_force_n[0] / load < bound);
  CHECK(r.largest_force_n[0] / load > 0.85 * bound);
}

TEST_CASE("the way of a rigid wheel over an edge is an arc about it") {
  Obstacle kerb;
  kerb.id = std::string("kerb");
  kerb.height_mm = 30;
  const double radius = 253.5;
  const std::vector<double> path = hub_path_mm(kerb, radius, 256, 0.5, 1024);
  // The rise begins sqrt(s (2R - s)) before the edge, with the slope of a rigid wheel on an edge:
  // sqrt(s (2R - s))/(R - s) = 0.53523.
  const double reach = std::sqrt(30 * (2 * radius - 30));
  for (std::size_t i = 0; i < path.size(); ++i) {
    const double x = 0.5 * static_cast<double>(i) - 256;
    const double expected = x >= 0 ? 30 : x < -reach ? 0 : 30 - radius + std::sqrt(radius * radius - x * x);
    CHECK(path[i] == Approx(expected).margin(0.3));
  }
  const auto at = static_cast<std::size_t>((256 - reach) / 0.5) + 3;
  CHECK((path[at + 4] - path[at]) / 2 == Approx(0.53523).epsilon(0.05));
}

TEST_CASE("published humps have their height in the middle and nothing at the ends") {
  Obstacle o;
  o.id = std::string("hump");
  o.height_mm = 100;
  o.length_mm = 3700;
  for (const Shape shape : {Shape::round_hump, Shape::sine_hump}) {
    o.shape = shape;
    CHECK(surface_mm(o, 1850) == Approx(100).epsilon(1e-9));
    CHECK(surface_mm(o, 0) == Approx(0).margin(1e-6));
    CHECK(surface_mm(o, 3700) == Approx(0).margin(1e-6));
  }
  // Arc of radius 17.1625 m: v^2/r = 1.0116 m/s2 at 15 km/h; sine: (s/2)(2 pi v/l)^2 = 2.5032 m/s2.
  const double v = 15 / 3.6;
  const auto crest = [&](Shape shape) {
    o.shape = shape;
    const double step = 1;
    return -(surface_mm(o, 1850 + step) - 2 * surface_mm(o, 1850) + surface_mm(o, 1850 - step)) * 1000 * v *
           v;
  };
  CHECK(crest(Shape::round_hump) == Approx(1.0116 * 1).epsilon(1e-3));
  CHECK(crest(Shape::sine_hump) == Approx(2.5032).epsilon(1e-3));
}

TEST_CASE("one wheel on the kerb leaves the others on the road") {
  const Vehicle v;
  Obstacle kerb;
  kerb.id = std::string("kerb");
  kerb.height_mm = 30;
  kerb.wheels = Side::left;
  const Ground g = ground_over(kerb, v.wheels(), 2, 1, rate);
  CHECK(g.height_m.row(0).maxCoeff() == Approx(0.03));
  CHECK(g.height_m.row(1).cwiseAbs().maxCoeff() == 0);
  CHECK(g.height_m.row(2).cwiseAbs().maxCoeff() == 0);
  kerb.wheels = Side::both;
  const Ground both = ground_over(kerb, v.wheels(), 2, 1, rate);
  // The rear follows 1.3 m behind: 0.65 s.
  const auto first = [&](Eigen::Index wheel) {
    for (Eigen::Index i = 0; i < both.height_m.cols(); ++i)
      if (both.height_m(wheel, i) > 0.015) return static_cast<double>(i) / rate;
    return 0.0;
  };
  CHECK(first(2) - first(0) == Approx(0.65).margin(0.002));
}

TEST_CASE("a steady push of an edge bends the trike as statics has it") {
  // Force times slope at the hub of one wheel, the roll along x left to the inertia of all masses. Where the
  // ground has no slope nothing is pushed.
  const Vehicle v(60);
  const State& s = v.state;
  Ground g{rate, Eigen::MatrixXd::Zero(3, 6000), Eigen::MatrixXd::Zero(3, 6000)};
  g.slope.row(0).setConstant(0.5);
  const Ride r = ride(s, 0.3, g, 1);
  const Eigen::VectorXd moved = s.moving.shapes * r.coordinates.rightCols(1);
  const double force =
      s.static_wheel_load_n[0] - s.assembly.tyre_stiffness[0] * s.assembly.tyre_radial.col(0).dot(moved);
  const Eigen::VectorXd push = -0.5 * force * s.pushes.col(0);
  Eigen::VectorXd roll = Eigen::VectorXd::Zero(s.assembly.full_size);
  for (Eigen::Index i = 0; i < 6 * static_cast<Eigen::Index>(s.assembly.node_ids.size()); i += 6) roll[i] = 1;
  const Eigen::VectorXd inertia = s.assembly.mass * roll / roll.dot(s.assembly.mass * roll);
  const Eigen::VectorXd bent =
      frame::Statics(s.assembly).solve(push - inertia * roll.dot(push)).displacements.col(0);
  const frame::SparseMatrix forces = frame::section_force_map(s.assembly);
  CHECK((forces * moved - forces * bent).norm() < 1e-3 * (forces * bent).norm());
  CHECK(bent.norm() > 1);
  g.slope.setZero();
  CHECK(ride(s, 0.3, g, 1).coordinates.cwiseAbs().maxCoeff() < 1e-9);
}

TEST_CASE("few modes and their remainders keep the static answer") {
  const Vehicle v;
  const State body = with_lowest_modes(v.state, 3);
  CHECK(body.modes.frequency_hz.size() == 3);
  const Eigen::VectorXd force =
      v.state.assembly.tyre_radial * Eigen::Vector3d(100, -50, 70) +
      v.state.assembly.dampers * Eigen::VectorXd::Ones(v.state.assembly.dampers.cols());
  const auto answer = [&](const State& s) {
    const Eigen::VectorXd soft = s.moving.omega_rad_s.array().square().inverse();
    return Eigen::VectorXd(s.moving.shapes *
                           (soft.asDiagonal() * (s.moving.shapes.transpose() * force)).eval());
  };
  CHECK((answer(v.state) - answer(body)).norm() < 1e-9 * answer(v.state).norm());
  CHECK(rigid_motions(v.state) == 5);
}
