// SPDX-License-Identifier: GPL-3.0-or-later
// ISO 8608:2016 class C, geometric mean 256e-6 m3 at 0.1 cycles/m (table from memory), at 15 km/h; closed
// forms of the power law with w = 2.
#include "engine/loads/road.h"

#include <cmath>
#include <numbers>

#include "catalog/published/published_data.h"
#include "tests/engine/loads/small_states.h"
#include "tests/published/outside/outside.h"

using namespace seamwright;
using namespace seamwright::loads;
using seamwright::outside::WithinAbs;
using seamwright::outside::WithinRel;

TEST_CASE("class C at 5 Hz and 15 km/h") {
  SOURCE(recalled, "ISO 8608:2016 class C: power law with w = 2", "digits of the evaluation");
  const RoadPsdResult r = road_psd(class_c(), 5, 15 / 3.6);
  // G n0^2 v / f^2, 4 pi^2 G n0^2 v, 16 pi^4 G n0^2 v f^2.
  CHECK_THAT(r.gd_m2_hz, WithinRel(4.266667e-7, 1e-6));
  CHECK_THAT(r.velocity_m2_s, WithinRel(4.211031e-4, 1e-6));
  CHECK_THAT(r.acceleration_m2_s3, WithinRel(0.415612, 2e-6));
  CHECK_THAT(road_psd_m2_hz(class_c(), 5, 15 / 3.6), WithinRel(4.266667e-7, 1e-6));
  // Gain of the white-noise filter of the same road, 2 pi n0 sqrt(G v).
  CHECK_THAT(std::sqrt(r.velocity_m2_s), WithinRel(0.0205208, 3e-6));
}

TEST_CASE("standard deviation of class C from 0.05 to 10 cycles per metre") {
  SOURCE(closed_form, "sqrt(G n0^2 (1/n1 - 1/n2)) of the power law", "steps of the sum");
  Road r = class_c();
  r.min_cycles_m = 0.05;
  double variance = 0;
  constexpr int steps = 20000;
  const double ratio = std::pow(10 / 0.05, 1.0 / steps);
  double n = 0.05;
  for (int i = 0; i < steps; ++i, n *= ratio)
    variance += road_psd_m3(r, n * std::sqrt(ratio)) * n * (ratio - 1);
  // sqrt(G n0^2 (1/0.05 - 1/10)).
  CHECK_THAT(1000 * std::sqrt(variance), WithinRel(7.1375, 1e-5));
}

TEST_CASE("amplitude of a line of class C") {
  SOURCE(closed_form, "A = sqrt(2 G dn); root mean square of 4000 random amplitudes",
         "digits of the evaluation; two standard errors");
  // Sum of cosines A = sqrt(2 G dn); the line at 1 cycle/m of 0.01 cycles/m width.
  CHECK_THAT(std::sqrt(2 * road_psd_m3(class_c(), 1) * 0.01), WithinRel(2.26274e-4, 2e-6));
  // The same as the root mean square of synthesised amplitudes: E|A|^2 = 2 G df.
  Road narrow = class_c();
  narrow.min_cycles_m = 0.995;
  narrow.max_cycles_m = 1.005;
  double sum = 0;
  constexpr int seeds = 4000;
  for (int i = 0; i < seeds; ++i)
    sum += synthesise_road(narrow, {{0, 0, 0}}, 1, 0.01, 102, numbered("line ", i)).squaredNorm();
  CHECK_THAT(std::sqrt(sum / seeds), WithinRel(2.26274e-4, 0.032));
}

// The form of Ammon (1992), from memory, with the parameters that stand in a general-purpose library for multibody dynamics; values in
// double precision with Python. Read as the ratio of cross and direct spectrum: read as its square it would couple the tracks more.
TEST_CASE("coherence as fitted to measured roads") {
  SOURCE(evaluated, "Project Chrono, RandomSurfaceTerrain.cpp, commit 02d20e9: knee and power of classes A to E, five measured surfaces",
         "digits of the evaluation");
  const published::Catalog& catalog = published::catalog();
  const auto of_class = [&](const char* id, double n, double apart) {
    const published::RoadClass* known = published::find_road_class(catalog, id);
    Road r = class_c(Coherence::fitted);
    r.fit = {known->knee_rad_m, known->power, 1};
    return track_coherence(r, n, apart);
  };
  CHECK_THAT(of_class("A", 0.5, 0.8), WithinRel(0.7457626888214283, 1e-12));
  CHECK_THAT(of_class("C", 0.5, 0.8), WithinRel(0.5009635648726589, 1e-12));
  CHECK_THAT(of_class("C", 0.5, 0.4), WithinRel(0.8104569752299017, 1e-12));
  CHECK_THAT(of_class("E", 0.2, 0.8), WithinRel(0.6226769922994999, 1e-12));
  const auto on = [&](const char* id) {
    const published::RoadSurface* known = published::find_road_surface(catalog, id);
    Road r = class_c(Coherence::fitted);
    r.gd_n0_m3 = known->gd_n0_m3();
    r.waviness = known->waviness;
    r.fit = {known->knee_rad_m, known->power, known->reach};
    return r;
  };
  CHECK_THAT(track_coherence(on("asphalt-road"), 0.3, 0.8), WithinRel(0.4297007591541202, 1e-12));
  CHECK_THAT(track_coherence(on("asphalt-main-road"), 0.3, 0.8), WithinRel(0.8601703646848865, 1e-12));
  // Spectra at 1 rad/m, per rad/m: 2 pi times that at 1 / (2 pi) cycles/m.
  const std::vector<std::pair<const char*, double>> at_one_rad{
      {"concrete-road", 3.7e-6}, {"asphalt-road", 2.6e-6}, {"asphalt-over-old-pavement", 2.6e-6}, {"asphalt-main-road", 5e-6}, {"concrete-slab-track", 10e-6}};
  for (const auto& [id, gd] : at_one_rad) {
    INFO(id);
    CHECK_THAT(road_psd_m3(on(id), 1 / (2 * std::numbers::pi)) / (2 * std::numbers::pi), WithinRel(gd, 1e-12));
    // No direction of three tracks has less than nothing.
    const std::vector<Track> three{{1.3, 0.4, 0}, {1.3, -0.4, 0}, {0, 0, 0}};
    for (double n = 0.01; n < 10; n *= 1.3) {
      const Eigen::MatrixXd root = coherence_root(on(id), three, n);
      CHECK_THAT((root * root.transpose())(2, 2), WithinAbs(1, 1e-9));
    }
  }
}

// Coherence of an isotropic surface (Dodds & Robson, J. Sound Vib. 31 (1973) 175-183, from memory), closed
// form 2 / Gamma(w/2) (pi n B)^(w/2) K_(w/2)(2 pi n B) derived; values in 25 digits with mpmath.
TEST_CASE("coherence of an isotropic road") {
  SOURCE(recalled, "Dodds & Robson, J. Sound Vib. 31 (1973) 175-183: closed form, in 25 digits",
         "digits of the evaluation");
  const auto coherence = [](double waviness, double n, double apart) {
    Road r = class_c();
    r.waviness = waviness;
    return track_coherence(r, n, apart);
  };
  CHECK_THAT(coherence(2, 0.1, 0.8), WithinRel(0.826993139475, 1e-11));
  CHECK_THAT(coherence(2, 0.2, 0.8), WithinRel(0.59967429239, 1e-10));
  CHECK_THAT(coherence(2, 0.5, 0.8), WithinRel(0.182668768023, 1e-11));
  CHECK_THAT(coherence(2, 1, 0.8), WithinRel(0.0197388875488, 1e-11));
  CHECK_THAT(coherence(2, 1, 0.4), WithinRel(0.182668768023, 1e-11));
  CHECK_THAT(coherence(1.7, 0.2, 0.8), WithinRel(0.542251577829, 1e-11));
  CHECK_THAT(coherence(3.3, 0.2, 0.8), WithinRel(0.761399093059, 1e-11));
  CHECK_THAT(coherence(3, 0.5, 0.4), WithinRel(0.64226044353, 1e-10));
}

TEST_CASE("a synthesised road keeps to its class in every octave") {
  SOURCE(recalled, "ISO 8608:2016: octave means within the bounds of class C", "bounds of the class");
  // ISO 8608:2016 compares octave bands of the smoothed spectrum: the mean of each must lie between the
  // class's bounds, 128e-6 and 512e-6 m3 at n0 for class C (from memory), falling with the square.
  const Road r = class_c();
  constexpr double df = 1.0 / 4000;  // 4 km at 1 m/s
  const Eigen::MatrixXcd heights = synthesise_road(r, {{0, 0, 0}}, 1, df, 40001, "octaves");
  int octaves = 0;
  for (double n = 0.0156; n * std::sqrt(2.0) < 10; n *= 2) {
    double sum = 0, lines = 0;
    for (auto k = static_cast<Eigen::Index>(n / std::sqrt(2.0) / df);
         k <= static_cast<Eigen::Index>(n * std::sqrt(2.0) / df); ++k) {
      const double at = static_cast<double>(k) * df;
      sum += std::norm(heights(0, k)) / (2 * df) * at * at / 0.01;  // reduced to n0
      ++lines;
    }
    INFO(n << " cycles/m, " << lines << " lines");
    CHECK(sum / lines > 128e-6);
    CHECK(sum / lines < 512e-6);
    ++octaves;
  }
  CHECK(octaves == 9);
}
