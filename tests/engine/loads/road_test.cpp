// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/road.h"

#include <Eigen/Eigenvalues>
#include <cmath>
#include <limits>
#include <numbers>

#include "tests/engine/loads/small_states.h"

using namespace seamwright;
using namespace seamwright::loads;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using frame::fault_of;

namespace {

const std::vector<Track> three{{1.3, 0.4, 0}, {1.3, -0.4, 0}, {0, 0, 0}};
constexpr double infinite = std::numeric_limits<double>::infinity(),
                 not_a_number = std::numeric_limits<double>::quiet_NaN();

/// Cross spectra of synthesised lines near one frequency, over many seeds, divided by spectrum and spacing.
Eigen::MatrixXcd estimated(const Road& road, const std::vector<Track>& tracks, double speed, double hz) {
  constexpr Eigen::Index lines = 40;
  constexpr int seeds = 100;
  const double df = hz / 400;
  const auto n = static_cast<Eigen::Index>(tracks.size());
  Eigen::MatrixXcd sum = Eigen::MatrixXcd::Zero(n, n);
  Road narrow = road;
  narrow.min_cycles_m = (hz - 20.5 * df) / speed;
  narrow.max_cycles_m = (hz + 19.5 * df) / speed;
  for (int s = 0; s < seeds; ++s) {
    const Eigen::MatrixXcd a = synthesise_road(narrow, tracks, speed, df, 450, numbered("estimate ", s));
    for (Eigen::Index k = 370; k < 430; ++k) {
      const double g = road_psd_m2_hz(narrow, double(k) * df, speed);
      if (g > 0) sum += a.col(k).conjugate() * a.col(k).transpose() / (2 * g * df);
    }
  }
  return sum / (double(lines) * seeds);
}

}  // namespace

TEST_CASE("a road ends at its band") {
  const Road r = class_c();
  CHECK(road_psd_m3(r, 0.00999) == 0);
  CHECK(road_psd_m3(r, 0.01) > 0);
  CHECK(road_psd_m3(r, 10) > 0);
  CHECK(road_psd_m3(r, 10.001) == 0);
  CHECK(road_psd_m3(r, 0) == 0);
  CHECK(road_psd_m3(r, not_a_number) == 0);
  CHECK(road_psd_m2_hz(r, 60, 4) == 0);
  CHECK_THAT(road_psd_m3(r, 0.1), WithinRel(256e-6, 1e-14));
}

TEST_CASE("waviness tilts the spectrum about 0.1 cycles per metre") {
  Road r = class_c();
  r.waviness = 2.5;
  CHECK_THAT(road_psd_m3(r, 0.1), WithinRel(256e-6, 1e-14));
  CHECK_THAT(road_psd_m3(r, 1), WithinRel(256e-6 * std::pow(10, -2.5), 1e-13));
}

TEST_CASE("impossible roads and speeds are refused") {
  const auto id_of = [](auto change) {
    Road r = class_c();
    change(r);
    return fault_of([&r] { road_psd_m3(r, 1); }).id;
  };
  for (const double bad : {-1.0, not_a_number, infinite}) {
    CHECK(id_of([bad](Road& r) { r.gd_n0_m3 = bad; }) == "frame.bad-number");
    CHECK(id_of([bad](Road& r) { r.waviness = bad; }) == "frame.bad-number");
    CHECK(id_of([bad](Road& r) { r.min_cycles_m = bad; }) == "frame.bad-number");
    CHECK(id_of([bad](Road& r) { r.max_cycles_m = bad; }) == "frame.bad-number");
    CHECK(fault_of([bad] { road_psd_m2_hz(class_c(), 1, bad); }).id == "frame.bad-number");
    CHECK(fault_of([bad] { track_coherence(class_c(), bad, 1); }).id == "frame.bad-number");
    CHECK(fault_of([bad] { enveloping(1, bad); }).id == "frame.bad-number");
    CHECK(fault_of([bad] { synthesise_road(class_c(), three, bad, 1, 1, ""); }).id == "frame.bad-number");
  }
  CHECK(id_of([](Road& r) { r.max_cycles_m = 0.01; }) == "loads.empty-band");
  CHECK(fault_of([] { road_matrix_m2_hz(class_c(), {}, 1, 4); }).id == "frame.bad-number");
  CHECK(fault_of([] { synthesise_road(class_c(), three, 4, 1, -1, ""); }).id == "frame.bad-number");
}

TEST_CASE("evidence of a road's spectrum") {
  const RoadPsdResult inside = road_psd(class_c(), 5, 15 / 3.6);
  CHECK(inside.evidence.coverage == Coverage::inside);
  CHECK(inside.evidence.from_memory);
  CHECK(inside.evidence.value == inside.gd_m2_hz);
  Road rough = class_c();
  rough.gd_n0_m3 = 4096e-6;
  const RoadPsdResult outside = road_psd(rough, 5, 15 / 3.6);
  CHECK(outside.evidence.coverage == Coverage::extended);
  REQUIRE(outside.evidence.notes.size() == 1);
  CHECK(outside.evidence.notes[0].id == "loads.rough-road");
  Road fine = class_c();
  fine.max_cycles_m = 50;
  CHECK(road_psd(fine, 60, 4).evidence.coverage == Coverage::extended);
  fine.waviness = 2.2;
  CHECK(road_psd(fine, 5, 4).evidence.coverage == Coverage::extended);
}

TEST_CASE("coherence has its limits") {
  Road r = class_c();
  for (const double w : {0.5, 1.0, 1.7, 2.0, 3.3, 5.0}) {
    r.waviness = w;
    double before = 1;
    CHECK(track_coherence(r, 0, 0.8) == 1);
    CHECK(track_coherence(r, 5, 0) == 1);
    CHECK_THAT(track_coherence(r, 1e-7, 0.8), WithinAbs(1, w < 1 ? 0.02 : 1e-5));
    for (double n = 0.01; n < 1000; n *= 1.1) {
      const double value = track_coherence(r, n, 0.8);
      CHECK(value <= before);
      CHECK(value >= 0);
      CHECK(value == track_coherence(r, n, -0.8));
      before = value;
    }
    CHECK(before < 1e-9);
  }
  CHECK(track_coherence(class_c(Coherence::full), 3, 0.8) == 1);
  CHECK(track_coherence(class_c(Coherence::none), 3, 0.8) == 0);
  CHECK(track_coherence(class_c(Coherence::none), 3, 0) == 1);
}

TEST_CASE("a fit of the tracks falls from one with distance and wave number, and there must be one") {
  Road r = class_c(Coherence::fitted);
  CHECK(fault_of([&r] { track_coherence(r, 1, 0.8); }).id == "frame.bad-number");
  r.fit = {3, 1.3, 1};
  CHECK(track_coherence(r, 0, 0.8) == 1);
  CHECK(track_coherence(r, 5, 0) == 1);
  double before = 1;
  for (double n = 0.01; n < 1000; n *= 1.1) {
    const double value = track_coherence(r, n, 0.8);
    CHECK(value < before);
    CHECK(value == track_coherence(r, n, -0.8));
    CHECK(value < track_coherence(r, n, 0.4));
    before = value;
  }
  CHECK(before < 1e-6);
  // Further than a surface can reach counts as what it can.
  r.waviness = 2.5;
  r.fit.reach = 0.97;
  const double as_given = track_coherence(r, 1, 0.5);
  r.fit.reach = 0.8;
  CHECK(track_coherence(r, 1, 0.5) == as_given);
  r.fit.reach = 0.7;
  CHECK(track_coherence(r, 1, 0.5) != as_given);
}

TEST_CASE("tyres envelop short waves") {
  CHECK(enveloping(0, 0.1) == 1);
  CHECK(enveloping(3, 0) == 1);
  CHECK_THAT(enveloping(5, 0.1), WithinRel(2 / std::numbers::pi, 1e-13));
  CHECK_THAT(enveloping(10, 0.1), WithinAbs(0, 1e-15));
  CHECK_THAT(enveloping(15, 0.1), WithinRel(2 / (3 * std::numbers::pi), 1e-12));
}

TEST_CASE("the road matrix is Hermitian and not negative") {
  const std::vector<Track> five{{1.3, 0.4, 0.1}, {1.3, -0.4, 0.1}, {0, 0, 0.12}, {0.2, 0.4, 0}, {0, 0.05, 0}};
  for (const Coherence c : {Coherence::isotropic, Coherence::full, Coherence::fitted, Coherence::none})
    for (const double w : {1.5, 2.0, 3.0})
      for (const double hz : {0.05, 0.3, 1.0, 6.0, 20.0, 40.0}) {
        Road r = class_c(c);
        r.fit = {3, 1.3, 0.97};
        r.waviness = w;
        const Eigen::MatrixXcd s = road_matrix_m2_hz(r, five, hz, 15 / 3.6);
        const double size = s.cwiseAbs().maxCoeff();
        REQUIRE(size > 0);
        CHECK((s - s.adjoint()).cwiseAbs().maxCoeff() <= 1e-15 * size);
        const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXcd> eigen(s / size);
        CHECK(eigen.eigenvalues().minCoeff() >= -1e-12);
      }
}

TEST_CASE("the road matrix carries delay and enveloping") {
  const double v = 15 / 3.6, hz = 7;
  std::vector<Track> tracks = three;
  const Eigen::MatrixXcd s = road_matrix_m2_hz(class_c(), tracks, hz, v);
  const double g = road_psd_m2_hz(class_c(), hz, v), half = track_coherence(class_c(), hz / v, 0.4);
  const std::complex<double> late = std::polar(1.0, -2 * std::numbers::pi * hz * 1.3 / v);
  CHECK_THAT(s(0, 1).real(), WithinRel(g * track_coherence(class_c(), hz / v, 0.8), 1e-12));
  CHECK_THAT(std::abs(s(0, 2) - g * half * late), WithinAbs(0, 1e-12 * g));
  tracks[2].contact_length_m = 0.2;
  const Eigen::MatrixXcd t = road_matrix_m2_hz(class_c(), tracks, hz, v);
  const double filter = enveloping(hz / v, 0.2);
  CHECK_THAT(t(2, 2).real(), WithinRel(g * filter * filter, 1e-12));
  CHECK_THAT(std::abs(t(0, 2) - filter * s(0, 2)), WithinAbs(0, 1e-12 * g));
}

TEST_CASE("the coherence root squares to the coherence") {
  for (const Coherence c : {Coherence::isotropic, Coherence::full, Coherence::fitted, Coherence::none})
    for (const double n : {0.0, 0.01, 0.1, 1.0, 10.0}) {
      Road r = class_c(c);
      r.fit = {3, 1.3, 1};
      const Eigen::MatrixXd root = coherence_root(r, three, n), square = root * root.transpose();
      for (Eigen::Index i = 0; i < 3; ++i)
        for (Eigen::Index j = 0; j < 3; ++j)
          CHECK_THAT(
              square(i, j),
              WithinAbs(track_coherence(r, n, three[std::size_t(i)].y_m - three[std::size_t(j)].y_m), 2e-6));
    }
}

TEST_CASE("synthesised lines have the road's cross spectra") {
  const double v = 4;
  for (const Coherence c : {Coherence::isotropic, Coherence::full, Coherence::none})
    for (const double hz : {0.4, 2.0}) {
      const Road r = class_c(c);
      // Four standard errors of 4000 lines.
      const std::vector<Track> abreast{{1.3, 0.4, 0}, {1.3, -0.4, 0}, {1.3, 0, 0}};
      const Eigen::MatrixXcd s = estimated(r, abreast, v, hz);
      for (Eigen::Index i = 0; i < 3; ++i)
        for (Eigen::Index j = 0; j < 3; ++j) {
          const double y = abreast[std::size_t(i)].y_m - abreast[std::size_t(j)].y_m;
          CHECK_THAT(s(i, j).real(), WithinAbs(track_coherence(r, hz / v, y), 0.064));
          CHECK_THAT(s(i, j).imag(), WithinAbs(0, 0.064));
        }
    }
}

TEST_CASE("the variance of synthesised heights is the integral of the spectrum") {
  const double v = 4, df = 0.002;
  const Road r = class_c();
  // 0.01 to 10 cycles/m, w = 2: G n0^2 (1/n1 - 1/n2).
  const double expected = 256e-6 * 0.01 * (1 / 0.01 - 1 / 10.0);
  double sum = 0;
  constexpr int seeds = 200;
  for (int s = 0; s < seeds; ++s) {
    const Eigen::MatrixXcd a = synthesise_road(r, {{0, 0, 0}}, v, df, 20001, numbered("variance ", s));
    sum += a.squaredNorm() / 2;
  }
  // The lowest 20 lines hold half of the variance: 1 / sqrt(200 * 40) = 1.1 % standard error; three of them,
  // and 2.5 % for the first line's place at the band's lower end.
  CHECK_THAT(sum / seeds, WithinRel(expected, 0.06));
}

TEST_CASE("a wheel behind on the same track meets the same road later") {
  const double v = 3, df = 0.01;
  const std::vector<Track> line{{1.3, 0.2, 0}, {0, 0.2, 0}};
  const Eigen::MatrixXcd a = synthesise_road(class_c(), line, v, df, 3000, "delay");
  for (Eigen::Index k = 3; k < 3000; ++k) {
    const auto late = std::polar(1.0, -2 * std::numbers::pi * double(k) * df * 1.3 / v);
    CHECK_THAT(std::abs(a(1, k) - a(0, k) * late), WithinAbs(0, 1e-12 * std::abs(a(0, k))));
  }
  CHECK(a.col(0).isZero(0));
}

TEST_CASE("a seed's name fixes the road") {
  const auto road = [](const std::string& seed) {
    return synthesise_road(class_c(), three, 4, 0.1, 100, seed);
  };
  CHECK(road("a") == road("a"));
  CHECK(road("a") != road("b"));
}
