// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>
#include <complex>
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

/// One mode that sits on one tyre: omega in rad/s, damping in N s/mm on a unit mass.
State one_mode(double omega, double damping) {
  State s;
  s.assembly.damping = frame::SparseMatrix(1, 1);
  s.assembly.damping.coeffRef(0, 0) = damping;
  s.assembly.tyre_radial = Eigen::MatrixXd::Ones(1, 1);
  s.assembly.tyre_stiffness = Eigen::VectorXd::Constant(1, omega * omega);
  s.assembly.tyre_damping = Eigen::VectorXd::Zero(1);
  s.moving = {Eigen::MatrixXd::Ones(1, 1), Eigen::VectorXd::Constant(1, omega)};
  return s;
}

}  // namespace

TEST_CASE("poles and residues give the direct solution") {
  const State s = make_state(trike(), 0, 60);
  for (const double damping : {0.0, 0.01, 0.2}) {
    const Transfer t(s, damping);
    CHECK(t.by_poles());
    for (const double hz : {0.0, 0.01, 0.7, 4.99, 6.3, 9.1, 17.0, 33.3, 60.0, 100.0}) {
      const Eigen::MatrixXcd direct = t.direct_response_at(hz);
      CHECK((t.response_at(hz) - direct).norm() <= 1e-9 * direct.norm());
    }
  }
}

TEST_CASE("an overdamped and a critically damped mode have their closed form") {
  const double omega = 30;
  for (const double ratio : {0.02, 0.9, 1.0, 1.0 + 1e-9, 1.5, 40.0}) {
    const Transfer t(one_mode(omega, 2 * ratio * omega), 0);
    for (const double r : {0.01, 0.5, 1.0, 2.0, 10.0}) {
      const std::complex<double> expected = 1000.0 / std::complex<double>(1 - r * r, 2 * ratio * r);
      CHECK_THAT(std::abs(t.response_at(r * omega / (2 * std::numbers::pi))(0, 0) - expected),
                 WithinAbs(0, 1e-7 * std::abs(expected)));
    }
  }
}

TEST_CASE("answers to many lines are those of each line") {
  const State s = make_state(trike(), 0, 60);
  const Transfer t(s, 0.01);
  const Eigen::MatrixXcd heights = synthesise_road(class_c(), s.tracks, 4, 0.5, 40, "lines");
  const Eigen::VectorXd hz = 0.5 * Eigen::VectorXd::LinSpaced(40, 0, 39);
  const Transfer::Lines lines = t.respond(heights, hz);
  for (Eigen::Index k = 0; k < 40; k += 7) {
    const Eigen::VectorXcd each = t.response_at(hz[k]) * heights.col(k);
    CHECK((each.real() - lines.real.col(k)).norm() <= 1e-12 * (each.norm() + 1e-30));
    CHECK((each.imag() - lines.imaginary.col(k)).norm() <= 1e-12 * (each.norm() + 1e-30));
  }
}

TEST_CASE("a slow road is followed without force") {
  const State s = make_state(trike(), 0, 60);
  const Transfer t(s, 0.01);
  const frame::SparseMatrix forces = frame::section_force_map(s.assembly);
  const Eigen::MatrixXd motion = s.moving.shapes * t.response_at(0).real();
  const Eigen::MatrixXd contact = s.assembly.tyre_radial.transpose() * motion;
  CHECK((contact - 1000 * Eigen::MatrixXd::Identity(3, 3)).cwiseAbs().maxCoeff() < 1e-5);
  CHECK(t.response_at(0).imag().isZero(1e-9));
  // A tyre pressed by a metre would push with 1e5 N.
  CHECK((forces * motion).cwiseAbs().maxCoeff() < 1e5 * 1e-5);
  // The forces grow near rest with the acceleration.
  const auto largest = [&](double hz) {
    const Eigen::MatrixXcd h = t.response_at(hz);
    return std::max((forces * (s.moving.shapes * h.real())).cwiseAbs().maxCoeff(),
                    (forces * (s.moving.shapes * h.imag())).cwiseAbs().maxCoeff());
  };
  CHECK(largest(0.02) < 0.6 * largest(0.04));
  CHECK(largest(0.02) > 0);
}

TEST_CASE("more modes change the answer little and the remainder makes up for few") {
  const State few = make_state(trike(), 0, 40), many = make_state(trike(), 0, 400);
  const Transfer of_few(few, 0.01), of_many(many, 0.01);
  const frame::SparseMatrix forces = frame::section_force_map(few.assembly);
  for (const double hz : {1.0, 6.0, 12.0}) {
    const Eigen::MatrixXd a = forces * (few.moving.shapes * of_few.response_at(hz).real()),
                          b = forces * (many.moving.shapes * of_many.response_at(hz).real());
    CHECK((a - b).norm() < 0.1 * b.norm());
    const Eigen::Index n = few.modes.frequency_hz.size();
    const Eigen::MatrixXd without =
        forces * (few.moving.shapes.leftCols(n) * of_few.response_at(hz).real().topRows(n));
    CHECK((a - b).norm() < (without - b).norm());
  }
}

TEST_CASE("impossible damping and frequencies are refused") {
  const State s = make_state(trike(), 0, 60);
  const double nan = std::numeric_limits<double>::quiet_NaN();
  for (const double bad : {-0.01, 0.6, nan})
    CHECK(fault_of([&] { Transfer(s, bad); }).id == "frame.bad-number");
  const Transfer t(s, 0.01);
  for (const double bad : {-1.0, nan}) {
    CHECK(fault_of([&] { t.response_at(bad); }).id == "frame.bad-number");
    CHECK(fault_of([&] { t.direct_response_at(bad); }).id == "frame.bad-number");
  }
}
