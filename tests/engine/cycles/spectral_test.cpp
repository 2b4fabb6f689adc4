// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/cycles/spectral.h"

#include <boost/math/special_functions/gamma.hpp>
#include <cmath>
#include <numbers>

#include "tests/engine/cycles/signals.h"

using namespace seamwright;
using namespace seamwright::cycles;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

const std::vector<RangeModel> all_models{RangeModel::dirlik, RangeModel::tovo_benasciutti,
                                         RangeModel::narrow_band};

// nu_p (2 sigma)^k [D1 Q^k Gamma(1+k) + sqrt(2)^k Gamma(1+k/2) (D2 R^k + D3)].
double dirlik_closed(const Moments& m, double k) {
  const Dirlik d = dirlik(m);
  return peaks_per_s(m) * std::pow(2 * std::sqrt(m.m0), k) *
         (d.d1 * std::pow(d.q, k) * std::tgamma(1 + k) +
          std::pow(2, k / 2) * std::tgamma(1 + k / 2) * (d.d2 * std::pow(d.r, k) + d.d3));
}

// (b + (1 - b) alpha_2^(k-1)) times the narrow-band damage.
double tovo_closed(const Moments& m, double k) {
  const double b = tovo_benasciutti_weight(m);
  return (b + (1 - b) * std::pow(irregularity(m), k - 1)) * upcrossings_per_s(m) *
         rayleigh_power(std::sqrt(m.m0), k);
}

// Two slopes with a knee, and ranges below a cut-off that do nothing.
struct Law {
  double knee_mpa = 50, upper_slope = 3, lower_slope = 5, cut_off_mpa = 0;
  double operator()(double range_mpa) const {
    if (range_mpa < cut_off_mpa) return 0;
    return 1e-7 * std::pow(range_mpa / knee_mpa, range_mpa >= knee_mpa ? upper_slope : lower_slope);
  }
};

// Narrow band, by incomplete gamma functions.
double law_closed(const Law& law, double sigma, double up_per_s) {
  using boost::math::tgamma;
  const double scale = 2 * std::sqrt(2.0) * sigma;
  const double knee = std::pow(law.knee_mpa / scale, 2), cut = std::pow(law.cut_off_mpa / scale, 2);
  const auto part = [&](double slope, double from) {
    return std::pow(scale / law.knee_mpa, slope) * tgamma(1 + slope / 2, from);
  };
  return up_per_s * 1e-7 *
         (part(law.upper_slope, knee) + part(law.lower_slope, cut) - part(law.lower_slope, knee));
}

}  // namespace

TEST_CASE("quadrature gives the closed forms for one slope") {
  for (const Moments& m : {flat(), two_blocks(), two_far_blocks()}) {
    for (const double slope : {1.0, 2.5, 3.0, 5.0, 9.0, 16.0}) {
      INFO("m0 " << m.m0 << ", slope " << slope);
      CHECK_THAT(power_damage(m, RangeModel::dirlik, slope), WithinRel(dirlik_closed(m, slope), 1e-8));
      CHECK_THAT(power_damage(m, RangeModel::tovo_benasciutti, slope),
                 WithinRel(tovo_closed(m, slope), 1e-8));
      CHECK_THAT(power_damage(m, RangeModel::narrow_band, slope),
                 WithinRel(upcrossings_per_s(m) * rayleigh_power(std::sqrt(m.m0), slope), 1e-8));
    }
  }
}

TEST_CASE("quadrature splits at knees and at a cut-off") {
  for (const double sigma : {2.0, 8.0, 20.0, 60.0}) {
    for (const double cut_off : {0.0, 12.0, 30.0}) {
      const Law law{50, 3, 5, cut_off};
      std::vector<double> knees{50};
      if (cut_off > 0) knees.insert(knees.begin(), cut_off);
      INFO("sigma " << sigma << ", cut-off " << cut_off);
      CHECK_THAT(damage_per_s(single(sigma, 8), RangeModel::narrow_band, law, knees),
                 WithinRel(law_closed(law, sigma, 8), 1e-8));
    }
  }
}

TEST_CASE("ranges per second and MPa integrate to cycles and to damage") {
  for (const Moments& m : {flat(), two_blocks(), two_far_blocks()}) {
    for (const RangeModel model : all_models) {
      double cycles_per_s = 0, cubes_per_s = 0;
      const double step = std::sqrt(m.m0) / 2000;
      for (int i = 0; i < 60000; ++i) {
        const double range = (i + 0.5) * step;
        const double per_s = ranges_per_s_mpa(m, model, range) * step;
        cycles_per_s += per_s;
        cubes_per_s += per_s * std::pow(range, 3);
      }
      const double b = tovo_benasciutti_weight(m);
      double expected = peaks_per_s(m);
      if (model == RangeModel::narrow_band) expected = upcrossings_per_s(m);
      if (model == RangeModel::tovo_benasciutti) expected *= 1 - b * (1 - irregularity(m));
      CHECK_THAT(cycles_per_s, WithinRel(expected, 1e-5));
      CHECK_THAT(cubes_per_s, WithinRel(power_damage(m, model, 3), 1e-5));
    }
  }
}

TEST_CASE("sum of ranges per second does not depend on bandwidth") {
  // sqrt(2 pi m2), half the mean total variation of a Gaussian signal. Dirlik has 1.25 in place of
  // sqrt(pi/2).
  for (const Moments& m : {flat(), two_blocks(), two_far_blocks()}) {
    const double exact = std::sqrt(2 * std::numbers::pi * m.m2);
    CHECK_THAT(power_damage(m, RangeModel::tovo_benasciutti, 1), WithinRel(exact, 1e-8));
    CHECK_THAT(power_damage(m, RangeModel::narrow_band, 1), WithinRel(exact, 1e-8));
    const double dirlik_ratio = power_damage(m, RangeModel::dirlik, 1) / exact;
    CHECK(dirlik_ratio < 1.0000001);
    CHECK(dirlik_ratio > 1.25 / std::sqrt(std::numbers::pi / 2) - 1e-6);
  }
}

TEST_CASE("narrow spectra run into the narrow-band result without a step") {
  const double exact = power_damage(single(10, 5), RangeModel::narrow_band, 3);
  for (const double half_width_hz : {1e-9, 1e-4, 1e-3, 0.01, 0.03, 0.05, 0.1}) {
    const Moments m = moments({{5 - half_width_hz, 5 + half_width_hz, 50 / half_width_hz}});
    INFO("half width " << half_width_hz << ", 1 - irregularity " << 1 - irregularity(m));
    CHECK_THAT(power_damage(m, RangeModel::dirlik, 3), WithinRel(exact, 2e-2));
    CHECK_THAT(power_damage(m, RangeModel::tovo_benasciutti, 3), WithinRel(exact, 1e-3));
  }
  CHECK(model_used(single(10, 5), RangeModel::dirlik) == RangeModel::narrow_band);
  CHECK(model_used(single(10, 5), RangeModel::tovo_benasciutti) == RangeModel::narrow_band);
  CHECK(tovo_benasciutti_weight(single(10, 5)) == 1);
}

TEST_CASE("Dirlik falls back where it was not fitted") {
  // A slow drift under one frequency: D1 vanishes though the irregularity is 1/sqrt 2. Ranges are those of
  // the one frequency, Rayleigh of scale sigma / sqrt 2.
  const Moments drift{200, 500, 2500, 62500};
  CHECK_THAT(irregularity(drift), WithinRel(std::sqrt(0.5), 1e-12));
  CHECK_FALSE(dirlik(drift).fits);
  CHECK(model_used(drift, RangeModel::dirlik) == RangeModel::tovo_benasciutti);
  CHECK_THAT(power_damage(drift, RangeModel::dirlik, 3), WithinRel(5 * rayleigh_power(10, 3), 1e-6));
  CHECK(model_used(flat(), RangeModel::dirlik) == RangeModel::dirlik);

  // All bandwidths are tried (alpha_2 < alpha_1 < 1): whatever is used, the damage is finite, positive and no
  // larger than the narrow-band damage but for Dirlik's own scatter.
  int fallen_back = 0;
  for (double a1 = 0.05; a1 < 1; a1 += 0.05) {
    for (double a2 = 0.02; a2 < a1; a2 += 0.03) {
      const Moments m{100, 100 * a1 * 5, 2500, 62500 / (a2 * a2)};
      fallen_back += model_used(m, RangeModel::dirlik) == RangeModel::tovo_benasciutti ? 1 : 0;
      for (const double slope : {3.0, 5.0}) {
        const double narrow = power_damage(m, RangeModel::narrow_band, slope);
        const double damage = power_damage(m, RangeModel::dirlik, slope);
        INFO("alpha_1 " << a1 << ", alpha_2 " << a2 << ", slope " << slope);
        CHECK(damage > 0);
        CHECK(damage < 1.1 * narrow);
        CHECK(power_damage(m, RangeModel::tovo_benasciutti, slope) <= narrow * (1 + 1e-9));
      }
    }
  }
  CHECK(fallen_back > 0);
}

TEST_CASE("no stress does no damage") {
  for (const Moments& m : {Moments{}, Moments{1e-7, 1e-7, 1e-7, 1e-7}, Moments{-1e-18, 1e-20, -1e-9, 0}}) {
    for (const RangeModel model : all_models) {
      CHECK(power_damage(m, model, 3) == 0);
      CHECK(ranges_per_s_mpa(m, model, 1) == 0);
    }
    CHECK(upcrossings_per_s(m) == 0);
    CHECK(peaks_per_s(m) == 0);
    CHECK(irregularity(m) == 0);
    CHECK(tovo_benasciutti_weight(m) == 0);
  }
}

TEST_CASE("moments that no spectrum has are refused") {
  for (const Moments& m :
       {Moments{-1, 1, 1, 1}, Moments{1, -1, 1, 1}, Moments{1, 1, -1, 1}, Moments{1, 1, 1, -1},
        Moments{1, 0, 0, 0}, Moments{nan_value, 1, 1, 1}, Moments{1, nan_value, 1, 1},
        Moments{1, 1, 1, infinite}, Moments{0, nan_value, 0, 0}, Moments{1, 2, 1, 1}, Moments{1, 1, 2, 1},
        Moments{1, 0.5, 1, 1}}) {
    CHECK(fault_of([&] { power_damage(m, RangeModel::dirlik, 3); }).id == "cycles.bad-moments");
    CHECK(fault_of([&] { upcrossings_per_s(m); }).id == "cycles.bad-moments");
    CHECK(fault_of([&] { irregularity(m); }).id == "cycles.bad-moments");
  }
}

TEST_CASE("faulty laws and knees are refused") {
  for (const double bad : {nan_value, infinite, -1.0}) {
    const auto law = [bad](double range) { return range > 40 ? bad : range; };
    const Message fault = fault_of([&] { damage_per_s(flat(), RangeModel::dirlik, law, {}); });
    CHECK(fault.id == "cycles.bad-damage-law");
    CHECK(first_number(fault) > 40);
  }
  const auto law = [](double range) { return range; };
  for (const std::vector<double>& knees :
       {std::vector<double>{nan_value}, {infinite}, {-1}, {0}, {20, 10}, {10, nan_value}}) {
    CHECK(fault_of([&] { damage_per_s(flat(), RangeModel::dirlik, law, knees); }).id == "cycles.bad-knees");
  }
  CHECK(damage_per_s(flat(), RangeModel::dirlik, law, {10, 10, 20, 1e9}) > 0);
  CHECK(fault_of([] { ranges_per_s_mpa(flat(), RangeModel::dirlik, nan_value); }).id ==
        "cycles.not-a-number");
  CHECK(ranges_per_s_mpa(flat(), RangeModel::dirlik, -1) == 0);
}
