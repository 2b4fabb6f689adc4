// SPDX-License-Identifier: GPL-3.0-or-later
#include <Eigen/Eigenvalues>
#include <cmath>
#include <limits>
#include <numbers>

#include "tests/engine/frame/trike.h"
#include "tests/engine/loads/small_states.h"

using namespace seamwright;
using namespace seamwright::loads;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using frame::fault_of;
using frame::trike;

namespace {

struct Leaning {
  State state = make_state(trike(), 0, 60);
  Transfer transfer{state, 0.01};
  Road road = class_c();
  Leg leg = leg_of(0.5, 15);
};

/// Section forces of the coordinates, 12 per element.
Eigen::MatrixXd force_rows(const State& s) { return frame::section_force_map(s.assembly) * s.moving.shapes; }

double row_variance(const Eigen::MatrixXd& histories, const Eigen::RowVectorXd& row) {
  const Eigen::RowVectorXd y = row * histories;
  return y.squaredNorm() / double(y.size());
}

}  // namespace

TEST_CASE("moments settle on the grid as used") {
  const Leaning r;
  const Eigen::MatrixXd rows = force_rows(r.state);
  for (const double kmh : {5.0, 15.0, 25.0}) {
    const Leg leg = leg_of(1, kmh);
    const MomentMatrices used = leg_moments(r.state, r.transfer, r.road, leg, 60),
                         half = leg_moments(r.state, r.transfer, r.road, leg, 60, 2),
                         fine = leg_moments(r.state, r.transfer, r.road, leg, 60, 8);
    const auto far = [&rows](const Eigen::MatrixXd& a, const Eigen::MatrixXd& b) {
      const Eigen::ArrayXd x = (rows * a).cwiseProduct(rows).rowwise().sum(),
                           y = (rows * b).cwiseProduct(rows).rowwise().sum();
      return ((x - y).abs() / (y.abs() + 1e-9 * y.maxCoeff())).maxCoeff();
    };
    CHECK(far(used.m0, half.m0) < 0.01);
    CHECK(far(used.m2, half.m2) < 0.01);
    CHECK(far(used.m0, fine.m0) < 0.002);
    CHECK(far(used.m1, fine.m1) < 0.002);
    CHECK(far(used.m2, fine.m2) < 0.002);
    CHECK(far(used.m4, fine.m4) < 0.002);
  }
}

TEST_CASE("moments are those of an even grid") {
  const Leaning r;
  const double v = 15 / 3.6, df = 0.005;
  Eigen::MatrixXd m0 = Eigen::MatrixXd::Zero(r.state.moving.shapes.cols(), r.state.moving.shapes.cols()),
                  m4 = m0;
  for (double f = 0.01 * v + df / 2; f < 10 * v; f += df) {
    const Eigen::MatrixXcd q = r.transfer.response_at(f);
    const Eigen::MatrixXd s =
        (q * road_matrix_m2_hz(r.road, r.state.tracks, f, v).conjugate() * q.adjoint()).real();
    m0 += df * s;
    m4 += df * std::pow(f, 4) * s;
  }
  const MomentMatrices m = leg_moments(r.state, r.transfer, r.road, r.leg, 60);
  CHECK((m.m0 - m0).norm() < 0.01 * m0.norm());
  CHECK((m.m4 - m4).norm() < 0.01 * m4.norm());
  const Eigen::MatrixXd rows = force_rows(r.state);
  const Eigen::MatrixXd a = rows * m.m0 * rows.transpose(), b = rows * m0 * rows.transpose();
  CHECK((a - b).norm() < 0.002 * b.norm());
}

TEST_CASE("moment matrices are symmetric and not negative") {
  const Leaning r;
  const MomentMatrices m = leg_moments(r.state, r.transfer, r.road, r.leg, 60);
  for (const Eigen::MatrixXd* x : {&m.m0, &m.m1, &m.m2, &m.m4}) {
    CHECK((*x - x->transpose()).cwiseAbs().maxCoeff() <= 1e-12 * x->cwiseAbs().maxCoeff());
    const Eigen::VectorXd scale = x->diagonal().cwiseSqrt().cwiseInverse();
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> eigen(scale.asDiagonal() * *x * scale.asDiagonal());
    CHECK(eigen.eigenvalues().minCoeff() > -1e-10);
  }
}

TEST_CASE("roads of one shape scale every moment") {
  const Leaning r;
  Road a = r.road;
  a.gd_n0_m3 /= 16;
  const MomentMatrices c = leg_moments(r.state, r.transfer, r.road, r.leg, 60),
                       quarter = leg_moments(r.state, r.transfer, a, r.leg, 60);
  CHECK((c.m0 / 16 - quarter.m0).norm() <= 1e-12 * quarter.m0.norm());
  CHECK((c.m4 / 16 - quarter.m4).norm() <= 1e-12 * quarter.m4.norm());
}

TEST_CASE("histories have the variance of the moments") {
  const Leaning r;
  const MomentMatrices m = leg_moments(r.state, r.transfer, r.road, r.leg, 60);
  const Eigen::MatrixXd rows = force_rows(r.state);
  constexpr int seeds = 24;
  const Eigen::Index rate = 200;
  std::vector<Eigen::MatrixXd> rides;
  for (int s = 0; s < seeds; ++s)
    rides.push_back(leg_coordinates(r.state, r.transfer, r.road, r.leg, rate, 60, numbered("seed ", s)));
  const double largest = (rows * m.m0).cwiseProduct(rows).rowwise().sum().maxCoeff();
  int checked = 0;
  REQUIRE(rides[0].cols() == leg_samples(r.leg, rate));
  for (Eigen::Index row = 0; row < rows.rows(); row += 5) {
    const double expected = rows.row(row) * m.m0 * rows.row(row).transpose();
    // Forces that symmetry or a pin keeps at zero.
    if (expected < 1e-9 * largest) continue;
    ++checked;
    double sum = 0, square = 0;
    for (const Eigen::MatrixXd& q : rides) {
      const double v = row_variance(q, rows.row(row)) / expected;
      sum += v;
      square += v * v;
    }
    const double mean = sum / seeds, error = std::sqrt((square / seeds - mean * mean) / (seeds - 1));
    CHECK(error < 0.05);
    CHECK_THAT(mean, WithinAbs(1, 4 * error));
  }
  CHECK(checked > 20);
}

TEST_CASE("histories hold the lines that were synthesised") {
  const Leaning r;
  const Leg leg = leg_of(0.0125, 15);  // 3 s
  const Eigen::MatrixXd q = leg_coordinates(r.state, r.transfer, r.road, leg, 200, 60, "direct");
  REQUIRE(q.cols() == 600);
  const double df = 200.0 / 600;   // 600 = 2^3 3 5^2
  const Eigen::Index lines = 126;  // up to 10 cycles/m at 15 km/h: 41.67 Hz
  const Eigen::MatrixXcd z = synthesise_road(r.road, r.state.tracks, 15 / 3.6, df, lines, "direct/leg");
  for (const Eigen::Index i : {0, 1, 137, 599}) {
    Eigen::VectorXd expected = Eigen::VectorXd::Zero(q.rows());
    for (Eigen::Index k = 1; k < lines; ++k) {
      const auto turn = std::polar(1.0, 2 * std::numbers::pi * double(k * i) / 600);
      expected += (r.transfer.response_at(double(k) * df) * z.col(k) * turn).real();
    }
    CHECK((q.col(i) - expected).norm() < 1e-9 * expected.norm());
  }
}

TEST_CASE("seed and leg name a history") {
  const Leaning r;
  const auto ride = [&r](const std::string& seed, const std::string& id) {
    return leg_coordinates(r.state, r.transfer, r.road, leg_of(0.02, 12, id), 200, 60, seed);
  };
  CHECK(ride("a", "out") == ride("a", "out"));
  CHECK(ride("a", "out") != ride("b", "out"));
  CHECK(ride("a", "out") != ride("a", "back"));
}

TEST_CASE("fully coherent tracks do not roll the trike") {
  const State s = make_state(stiff_trike(), 0, 60);
  const Transfer t(s, 0);
  const auto roll = [&](Coherence c) {
    const MomentMatrices m = leg_moments(s, t, class_c(c), leg_of(1, 15), 60);
    const Eigen::RowVectorXd row = rise_row(s, "FL") - rise_row(s, "FR");
    return double(row * m.m0 * row.transpose());
  };
  const double none = roll(Coherence::none);
  CHECK(roll(Coherence::full) < 1e-12 * none);
  CHECK(roll(Coherence::isotropic) < none);
  CHECK(roll(Coherence::isotropic) > 1e-3 * none);
}

TEST_CASE("levels agree with moments and with the static loads") {
  const Leaning r;
  const LegLevels levels = leg_levels(r.state, r.transfer, r.road, r.leg, 60, "seat");
  const MomentMatrices m = leg_moments(r.state, r.transfer, r.road, r.leg, 60);
  const Eigen::RowVectorXd seat = rise_row(r.state, "seat");
  const double m4 = seat * m.m4 * seat.transpose();
  CHECK_THAT(levels.seat_acceleration_rms_m_s2,
             WithinRel(std::pow(2 * std::numbers::pi, 2) * std::sqrt(m4) / 1000, 1e-9));
  REQUIRE(levels.lift_share.size() == 3);
  for (Eigen::Index i = 0; i < 3; ++i) {
    const double z = r.state.static_wheel_load_n[i] / levels.wheel_force_sd_n[i];
    CHECK_THAT(levels.lift_share[i], WithinRel(0.5 * std::erfc(z / std::sqrt(2)), 1e-9));
  }
  Road smooth = r.road;
  smooth.gd_n0_m3 = 0;
  const LegLevels still = leg_levels(r.state, r.transfer, smooth, r.leg, 60, "seat");
  CHECK(still.wheel_force_sd_n.isZero(0));
  CHECK(still.lift_share.isZero(0));
  CHECK(fault_of([&] { leg_levels(r.state, r.transfer, r.road, r.leg, 60, "sofa"); }).id ==
        "frame.unknown-node");
}

TEST_CASE("a road without waves in the band moves nothing") {
  const Leaning r;
  Road short_waves = r.road;
  short_waves.min_cycles_m = 5;
  const Leg fast = leg_of(0.1, 60);
  const MomentMatrices m = leg_moments(r.state, r.transfer, short_waves, fast, 20);
  CHECK(m.m0.rows() == r.state.moving.shapes.cols());
  CHECK(m.m0.isZero(0));
  CHECK(leg_levels(r.state, r.transfer, short_waves, fast, 20, "seat").wheel_force_sd_n.isZero(0));
  CHECK(leg_coordinates(r.state, r.transfer, short_waves, fast, 200, 20, "s").isZero(0));
}

TEST_CASE("impossible legs are refused") {
  const Leaning r;
  const auto refused = [&r](const Leg& leg, double rate = 200, double highest = 60) {
    return fault_of([&] { leg_coordinates(r.state, r.transfer, r.road, leg, rate, highest, "s"); }).id;
  };
  const double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK(refused(leg_of(nan, 15)) == "frame.bad-number");
  CHECK(refused(leg_of(-1, 15)) == "frame.bad-number");
  CHECK(refused(leg_of(1, 0)) == "frame.bad-number");
  CHECK(refused(leg_of(1, nan)) == "frame.bad-number");
  CHECK(refused(leg_of(1, 15), nan) == "frame.bad-number");
  CHECK(refused(leg_of(1, 15), 200, -1) == "frame.bad-number");
  CHECK(refused(leg_of(99999, 10)) == "loads.leg-too-long");
  CHECK(refused(leg_of(2000, 10)) == "loads.leg-too-long");
  CHECK(fault_of([&] { leg_moments(r.state, r.transfer, r.road, leg_of(1, nan), 60); }).id ==
        "frame.bad-number");
  CHECK(fault_of([&] { leg_moments(r.state, r.transfer, r.road, leg_of(1, 15), 60, 0); }).id ==
        "frame.bad-number");
  CHECK(leg_samples(leg_of(0, 15), 200) == 1);
  CHECK(leg_coordinates(r.state, r.transfer, r.road, leg_of(0, 15), 200, 60, "s").isZero(0));
}
