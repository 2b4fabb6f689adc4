// SPDX-License-Identifier: GPL-3.0-or-later
// Range distributions of Gaussian stress. The formulas are recalled, not re-read [from memory]: Miles 1954
// and Bendat 1964 (narrow band), Dirlik 1985, Benasciutti & Tovo, Int. J. Fatigue 27 (2005) 867. No printed
// example was at hand: the figures below were computed from those formulas outside this project. Spectra of
// flat blocks.
#include <cmath>
#include <limits>

#include "tests/engine/cycles/signals.h"
#include "tests/published/outside/outside.h"

using namespace seamwright::cycles;
using seamwright::outside::WithinAbs;
using seamwright::outside::WithinRel;

namespace {

// Delta S = 90 MPa at 2e6, slope 3 down to 1e7 cycles, slope 5 below.
constexpr double cycles_at_90 = 2e6;
double knee_mpa() { return 90 * std::cbrt(cycles_at_90 / 1e7); }
double one_slope(double range_mpa) { return std::pow(range_mpa / 90, 3) / cycles_at_90; }
double two_slopes(double range_mpa) {
  return range_mpa >= knee_mpa() ? one_slope(range_mpa) : std::pow(range_mpa / knee_mpa(), 5) / 1e7;
}
constexpr double hundred_hours_s = 100 * 3600.0;

double ratio_to_narrow_band(const Moments& m, RangeModel model, double slope) {
  return power_damage(m, model, slope) / power_damage(m, RangeModel::narrow_band, slope);
}

}  // namespace

TEST_CASE("moments and bandwidths of the check spectra") {
  SOURCE(closed_form, "Moments of flat blocks", "digits of the evaluation");
  struct Row {
    Moments m;
    double m0, m1, m2, m4, up, peaks, alpha_1, alpha_2;
  };
  for (const Row& row :
       {Row{flat(), 190, 1995, 26663.33, 6399998, 11.846237, 15.492899, 0.886357, 0.764624},
        Row{two_blocks(), 1300, 12500, 182708.3, 64893841, 11.855162, 18.846147, 0.811072, 0.629050},
        Row{two_far_blocks(), 600, 8800, 337200, 5.6582712e8, 23.706539, 40.963598, 0.618676, 0.578722}}) {
    CHECK_THAT(row.m.m0, WithinRel(row.m0, 1e-6));
    CHECK_THAT(row.m.m1, WithinRel(row.m1, 1e-6));
    CHECK_THAT(row.m.m2, WithinRel(row.m2, 1e-6));
    CHECK_THAT(row.m.m4, WithinRel(row.m4, 1e-6));
    CHECK_THAT(upcrossings_per_s(row.m), WithinRel(row.up, 1e-7));
    CHECK_THAT(peaks_per_s(row.m), WithinRel(row.peaks, 1e-7));
    CHECK_THAT(bandwidth_1(row.m), WithinAbs(row.alpha_1, 1e-6));
    CHECK_THAT(irregularity(row.m), WithinAbs(row.alpha_2, 1e-6));
  }
}

TEST_CASE("Dirlik parameters of the check spectra") {
  SOURCE(recalled, "Dirlik 1985, evaluated apart", "six decimals were evaluated");
  struct Row {
    Moments m;
    double d1, d2, d3, q, r;
  };
  for (const Row& row : {Row{flat(), 0.117478, 0.295952, 0.586571, 0.146847, 0.554996},
                         Row{two_blocks(), 0.164076, 0.385282, 0.450642, 0.205095, 0.393184},
                         Row{two_far_blocks(), 0.034642, 0.893448, 0.071910, 0.043303, 0.565911}}) {
    const Dirlik d = dirlik(row.m);
    CHECK(d.fits);
    CHECK_THAT(d.d1, WithinAbs(row.d1, 1e-6));
    CHECK_THAT(d.d2, WithinAbs(row.d2, 1e-6));
    CHECK_THAT(d.d3, WithinAbs(row.d3, 1e-6));
    CHECK_THAT(d.q, WithinAbs(row.q, 1e-6));
    CHECK_THAT(d.r, WithinAbs(row.r, 1e-6));
  }
}

TEST_CASE("Tovo-Benasciutti 2005 weight of the check spectra") {
  SOURCE(recalled, "Benasciutti & Tovo, Int. J. Fatigue 27 (2005) 867, evaluated apart",
         "six decimals were evaluated");
  CHECK_THAT(tovo_benasciutti_weight(flat()), WithinAbs(0.595553, 1e-6));
  CHECK_THAT(tovo_benasciutti_weight(two_blocks()), WithinAbs(0.629506, 1e-6));
  CHECK_THAT(tovo_benasciutti_weight(two_far_blocks()), WithinAbs(0.145361, 1e-6));
}

TEST_CASE("damage of the check spectra over the narrow-band damage") {
  SOURCE(recalled, "Dirlik 1985; Benasciutti & Tovo 2005, evaluated apart", "four decimals were evaluated");
  struct Row {
    Moments m;
    double slope, dirlik, tovo_benasciutti;
  };
  for (const Row& row :
       {Row{flat(), 3, 0.8341, 0.8320}, Row{flat(), 5, 0.7876, 0.7338}, Row{two_blocks(), 3, 0.7572, 0.7761},
        Row{two_blocks(), 5, 0.7227, 0.6875}, Row{two_far_blocks(), 3, 0.4041, 0.4316},
        Row{two_far_blocks(), 5, 0.2139, 0.2412}}) {
    CHECK_THAT(ratio_to_narrow_band(row.m, RangeModel::dirlik, row.slope), WithinAbs(row.dirlik, 6e-5));
    CHECK_THAT(ratio_to_narrow_band(row.m, RangeModel::tovo_benasciutti, row.slope),
               WithinAbs(row.tovo_benasciutti, 6e-5));
  }
}

TEST_CASE("third moment of narrow-band ranges") {
  SOURCE(recalled, "Miles 1954 and Bendat 1964: Rayleigh ranges of a narrow band",
         "digits of the evaluation");
  // sigma = 10 MPa: E[range^3] and the equivalent constant range; amplitudes cubed per second for two
  // spectra.
  const double cubed = power_damage(single(10, 1), RangeModel::narrow_band, 3);
  CHECK_THAT(cubed, WithinRel(30079.54, 1e-6));
  CHECK_THAT(std::cbrt(cubed), WithinRel(31.0998, 1e-5));
  CHECK_THAT(power_damage(two_blocks(), RangeModel::narrow_band, 3) / 8, WithinRel(2.08931e6, 5e-6));
  CHECK_THAT(power_damage(flat(), RangeModel::narrow_band, 3) / 8, WithinRel(116652.0, 1e-5));
}

TEST_CASE("two slopes against one") {
  SOURCE(closed_form, "Incomplete gamma functions, evaluated apart", "digits of the evaluation");
  const std::vector<double> knees{knee_mpa()};
  CHECK_THAT(knee_mpa(), WithinAbs(52.6323, 1e-4));
  const Moments narrow = single(20, 8);
  CHECK_THAT(hundred_hours_s * damage_per_s(narrow, RangeModel::narrow_band, two_slopes, knees),
             WithinAbs(0.457415, 1e-6));
  CHECK_THAT(hundred_hours_s * damage_per_s(narrow, RangeModel::narrow_band, one_slope, {}),
             WithinAbs(0.475331, 1e-6));
  CHECK_THAT(hundred_hours_s * damage_per_s(two_blocks(), RangeModel::dirlik, two_slopes, knees),
             WithinAbs(3.0923, 1e-4));
  CHECK_THAT(hundred_hours_s * damage_per_s(two_blocks(), RangeModel::dirlik, one_slope, {}),
             WithinAbs(3.1250, 1e-4));
}

TEST_CASE("Wirsching and Light's factor on the check spectra") {
  SOURCE(recalled, "Wirsching & Light, evaluated apart", "four decimals were evaluated");
  CHECK_THAT(wirsching_light_factor(two_blocks(), 3), WithinAbs(0.8314, 5e-5));
  CHECK_THAT(wirsching_light_factor(two_blocks(), 5), WithinAbs(0.7611, 5e-5));
  CHECK_THAT(wirsching_light_factor(flat(), 3), WithinAbs(0.8409, 5e-5));
  CHECK_THAT(wirsching_light_factor(flat(), 5), WithinAbs(0.7617, 5e-5));
  CHECK_THAT(ratio_to_narrow_band(two_blocks(), RangeModel::wirsching_light, 3), WithinAbs(0.8314, 5e-5));
}

TEST_CASE("power laws in closed form are what quadrature gives, for every model") {
  SOURCE(closed_form, "Incomplete gamma functions beside quadrature", "step of the quadrature");
  const double knee = knee_mpa();
  const std::vector<PowerLaw> laws{
      {knee, std::numeric_limits<double>::infinity(), 3, 1 / (cycles_at_90 * std::pow(90, 3))},
      {0, knee, 5, 1 / (1e7 * std::pow(knee, 5))}};
  // A narrow band of 20 MPa and 8 Hz for 100 h: 0.457415, from the incomplete gamma functions, computed
  // apart.
  const Moments narrow{400, 400 * 8, 400 * 64, 400 * 4096};
  CHECK_THAT(hundred_hours_s * damage_per_s(narrow, RangeModel::narrow_band, laws),
             WithinAbs(0.457415, 1e-6));
  for (const Moments& m : {flat(), two_blocks(), two_far_blocks()})
    for (const RangeModel model : {RangeModel::dirlik, RangeModel::tovo_benasciutti, RangeModel::narrow_band,
                                   RangeModel::wirsching_light}) {
      INFO(name_of(model));
      CHECK_THAT(damage_per_s(m, model, laws), WithinRel(damage_per_s(m, model, two_slopes, {knee}), 1e-7));
    }
  CHECK(damage_per_s(Moments{}, RangeModel::dirlik, laws) == 0);
  CHECK_THROWS(damage_per_s(flat(), RangeModel::dirlik, std::vector<PowerLaw>{{5, 2, 3, 1}}));
}
