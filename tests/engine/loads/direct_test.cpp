// SPDX-License-Identifier: GPL-3.0-or-later
// Stresses of a flexible frame against its full equations of motion: on the road, in time steps, and however
// many modes are kept.
#include "tests/engine/loads/direct.h"

#include "engine/loads/ride.h"
#include "tests/engine/frame/trike.h"
#include "tests/engine/loads/small_states.h"

using namespace seamwright;
using namespace seamwright::loads;
using frame::trike;

namespace {

/// The rider held sideways and fore and aft as well, like the design's; every tyre damped sideways.
frame::Frame ridden_trike() {
  frame::Frame f = trike();
  f.sprung_masses[0].sprung.push_back({{0, 1, 0}, 2, 0.4});
  f.sprung_masses[0].sprung.push_back({{1, 0, 0}, 2, 0.4});
  for (frame::Wheel& w : f.wheels) w.lateral_damping_n_s_m = 150;
  return f;
}

/// Longer, narrower and of thinner tube, its load ahead of the axle.
frame::Frame long_trike() {
  frame::Frame f = ridden_trike();
  for (frame::Node& n : f.nodes) {
    n.position_mm.x() *= 1.45;
    n.position_mm.y() *= 0.8;
  }
  f.tubes[0].section = frame::RoundTube{38, 1.2};
  f.masses[0].position_mm = {2250, 30, 550};
  f.sprung_masses[0].position_mm.x() *= 1.45;
  f.dampers[0].damping_n_s_m = 1500;
  return f;
}

/// A wave under the front left wheel alone, small enough that nothing lifts.
Ground wave_on_the_left(double hz, double rate_hz, double seconds) {
  const auto samples = static_cast<Eigen::Index>(seconds * rate_hz);
  Ground g{rate_hz, Eigen::MatrixXd::Zero(3, samples), Eigen::MatrixXd::Zero(3, samples)};
  for (Eigen::Index i = 0; i < samples; ++i)
    g.height_m(0, i) = 1e-4 * std::sin(2 * std::numbers::pi * hz * static_cast<double>(i) / rate_hz);
  return g;
}

}  // namespace

TEST_CASE("all pairs give what elimination gives") {
  const State s = make_state(ridden_trike(), 0, 60);
  const Direct direct(s.assembly, 0);
  const frame::SparseMatrix stresses = end_stresses(s.assembly);
  const Eigen::MatrixXd rows = direct.rows_of(stresses);
  for (const double hz : {0.5, 3.0, 9.0, 21.0, 48.0}) {
    const Eigen::MatrixXcd one = rows * direct.at(hz),
                           other = stresses.cast<Direct::Complex>() * direct.at_once(hz);
    CHECK((one - other).norm() < 1e-6 * other.norm());
  }
}

TEST_CASE("stresses on the road are those of the full equations") {
  for (const frame::Frame& f : {ridden_trike(), long_trike()}) {
    const State s = make_state(f, 0, 60);
    const Direct direct(s.assembly, 0.01);
    const frame::SparseMatrix stresses = end_stresses(s.assembly);
    const Eigen::MatrixXd rows = direct.rows_of(stresses);
    for (const double kmh : {8.0, 18.0}) {
      const Leg leg = leg_of(1, kmh);
      Eigen::Index told = 0;
      const double worst = apart(by_shapes(s, 0.01, stresses, class_c(), leg, 60),
                                 directly(direct, rows, s.tracks, class_c(), leg, 60), told);
      INFO(f.nodes[0].position_mm.x() << " " << kmh << " km/h");
      CHECK(told >= 24);
      CHECK(worst < 0.02);
    }
  }
}

TEST_CASE("stresses do not depend on how many modes are kept") {
  for (const frame::Frame& f : {ridden_trike(), long_trike()}) {
    const State few = make_state(f, 0, 60), many = make_state(f, 0, 120);
    CHECK(many.modes.frequency_hz.size() > few.modes.frequency_hz.size());
    const frame::SparseMatrix stresses = end_stresses(few.assembly);
    const Leg leg = leg_of(1, 18);
    Eigen::Index told = 0;
    CHECK(apart(by_shapes(few, 0.01, stresses, class_c(), leg, 60),
                by_shapes(many, 0.01, stresses, class_c(), leg, 120), told) < 0.02);
    CHECK(told >= 24);
  }
}

TEST_CASE("stresses in time steps are those of the full equations") {
  constexpr double rate_hz = 2000, seconds = 20;
  const State s = make_state(ridden_trike(), 0, 60);
  const Direct direct(s.assembly, 0.05);
  const frame::SparseMatrix stresses = end_stresses(s.assembly);
  const Eigen::MatrixXd rows = direct.rows_of(stresses);
  for (const double hz : {6.0, 14.0, 33.0}) {
    const Ride r = ride(s, 0.05, wave_on_the_left(hz, rate_hz, seconds), 1);
    REQUIRE(r.lift_share.maxCoeff() == 0);
    const Eigen::MatrixXd history = stresses * (s.moving.shapes * r.coordinates.rightCols(2000));
    const Eigen::VectorXd largest = history.cwiseAbs().rowwise().maxCoeff(),
                          expected = (1e-4 * (rows * direct.at(hz)).col(0)).cwiseAbs();
    Eigen::Index told = 0;
    INFO(hz << " Hz");
    // Some end may hardly bend at all at one frequency alone, so those are left out.
    CHECK(apart(largest, expected, told, 0.1) < 0.02);
    CHECK(told >= 16);
  }
}

TEST_CASE("stresses of a kerb do not depend on how many modes are kept") {
  const frame::Frame f = ridden_trike();
  const auto largest = [&](double highest_hz) {
    const State s = make_state(f, 0, highest_hz);
    std::vector<WheelOnGround> wheels;
    for (std::size_t i = 0; i < 3; ++i) wheels.push_back({f.wheels[i].id, s.tracks[i], 250});
    Obstacle kerb;
    kerb.id = std::string("kerb");
    kerb.height_mm = 30;
    const Ride r = ride(s, 0.01, ground_over(kerb, wheels, 6 / 3.6, 2, 2000), 1);
    return Eigen::VectorXd(
        (end_stresses(s.assembly) * (s.moving.shapes * r.coordinates)).cwiseAbs().rowwise().maxCoeff());
  };
  const Eigen::VectorXd most = largest(240);
  Eigen::Index told = 0;
  // A blow drives high modes too, so ends that hardly bend are left out.
  CHECK(apart(largest(60), most, told, 0.1) < 0.03);
  CHECK(told >= 16);
}
