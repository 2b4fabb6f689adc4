// SPDX-License-Identifier: GPL-3.0-or-later
// Range distributions of a stationary Gaussian stress from the moments of its spectrum, and the damage they
// do.
//
// Sources, all [from memory], checked by quadrature and simulation in the tests: narrow band: Miles, J.
// Aeronautical Sciences 21 (1954) 753, Bendat 1964; Dirlik, PhD thesis, University of Warwick 1985;
// Tovo, Int. J. Fatigue 24 (2002) 1135; Benasciutti & Tovo, Int. J. Fatigue 27 (2005) 867.
// The formulas are this close: on smooth spectra with one dominant mode Dirlik and Tovo-Benasciutti agree
// with rainflow of simulated signals within about 5 % at slopes 3 and 5; on sharp-edged blocks and on two
// separate modes they come out up to 19 % below it. The narrow-band result is an upper bound. The stress must
// be Gaussian: not when wheels lift, on kerbs or on setts. Only ranges come out; all cycles share the static
// mean.
#pragma once

#include <array>
#include <functional>
#include <vector>

namespace seamwright::cycles {

/// m_n = integral of f^n G(f) df, one-sided G in MPa2/Hz, f in Hz: MPa2 Hz^n. Every function below gives 0
/// for a stress of 1 kPa standard deviation and less (|m0| <= 1e-6 MPa2: where stresses cancel, rounding
/// rules) and else throws Fault "cycles.bad-moments" unless all four are finite and positive and could come
/// from one spectrum: m1^2 <= m0 m2 and m2^3 <= m1^2 m4 (Hoelder's inequality, within 1e-5).
struct Moments {
  double m0 = 0, m1 = 0, m2 = 0, m4 = 0;
};

double upcrossings_per_s(const Moments& m);  ///< of the mean, 1/s: sqrt(m2 / m0)
double peaks_per_s(const Moments& m);        ///< 1/s: sqrt(m4 / m2)
double irregularity(const Moments& m);       ///< m2 / sqrt(m0 m4), dimensionless, 1 = narrow band
double bandwidth_1(const Moments& m);        ///< m1 / sqrt(m0 m2), dimensionless, 1 = narrow band

/// wirsching_light: narrow band times a + (1 - a)(1 - sqrt(1 - irregularity^2))^b, a = 0.926 - 0.033 k, b =
/// 1.587 k - 2.323, k the local slope of the damage law (Wirsching & Light, J. Struct. Div. ASCE 106 (1980)
/// 1593, [from memory]); it corrects damage, not ranges, and was fitted to slopes 3 to 6.
enum class RangeModel { dirlik, tovo_benasciutti, narrow_band, wirsching_light };
inline constexpr std::array range_models{RangeModel::dirlik, RangeModel::tovo_benasciutti,
                                         RangeModel::narrow_band, RangeModel::wirsching_light};
/// "dirlik", "tovo-benasciutti", "narrow-band", "wirsching-light".
const char* name_of(RangeModel model);
/// Factor on narrow-band damage after Wirsching & Light at a slope.
double wirsching_light_factor(const Moments& m, double slope);

/// Dirlik's density of Z = range / (2 sigma): (D1/Q) e^(-Z/Q) + (D2 Z/R^2) e^(-Z^2/2R^2) + D3 Z e^(-Z^2/2).
/// Dimensionless.
struct Dirlik {
  double d1 = 0, d2 = 0, d3 = 0, q = 0, r = 0;
  bool fits =
      false;  ///< weights >= 0, Q > 0, 0 < R < 1, D1 >= 1e-9: else outside the spectra it was fitted to
};
Dirlik dirlik(const Moments& m);

/// Weight b of the narrow-band part after Benasciutti & Tovo 2005, dimensionless, 0..1; 1 when 1 -
/// irregularity < 1e-6.
double tovo_benasciutti_weight(const Moments& m);

/// The model that is used when `wanted` is asked for: narrow band when 1 - irregularity < 1e-4 (Dirlik) or
/// 1e-6 (Tovo-Benasciutti); Tovo-Benasciutti when Dirlik does not fit. The limit D1 -> 0 below irregularity 1
/// is a Rayleigh density of scale R = irregularity, which is what Tovo-Benasciutti gives there.
RangeModel model_used(const Moments& m, RangeModel wanted);

/// Cycles per second and per MPa of range at a range >= 0 MPa (0 below). Tovo-Benasciutti's share of ranges
/// of exactly 0 is left out; Wirsching-Light has the narrow-band ranges. Throws Fault "cycles.not-a-number"
/// for a range that is not finite.
double ranges_per_s_mpa(const Moments& m, RangeModel model, double range_mpa);

/// Damage per second for an S-N relation given as damage_of_range (1/N for a range in MPa; it must be 0 at
/// range 0, finite and >= 0, else Fault "cycles.bad-damage-law" with the range). knees: ranges (MPa,
/// ascending, > 0, else Fault "cycles.bad-knees") where damage_of_range has a kink or jump, so that
/// quadrature splits there. Gauss-Kronrod, relative error below 1e-8 when the knees are complete; ranges
/// beyond 14 standard deviations of amplitude are left out (a share below 1e-40).
double damage_per_s(const Moments& m, RangeModel model, const std::function<double(double)>& damage_of_range,
                    const std::vector<double>& knees);

/// A stretch of an S-N relation that is a power law: damage of a range = scale * range^slope for from_mpa <=
/// range < to_mpa (to_mpa may be infinite).
struct PowerLaw {
  double from_mpa = 0, to_mpa = 0;
  double slope = 0, scale = 0;
};
/// The same for a relation made of power laws, in closed form by incomplete gamma functions (narrow band, one
/// law from 0 on: upcrossings * scale * (2 sqrt(2) sigma)^k * Gamma(1 + k/2)). Laws with bounds out of order,
/// slopes below 0 or above 50, or anything not a number throw Fault "cycles.bad-knees".
double damage_per_s(const Moments& m, RangeModel model, const std::vector<PowerLaw>& laws);

/// The ranges of one stress, for several relations.
class GaussianRanges {
 public:
  /// Throws Fault "cycles.bad-moments".
  GaussianRanges(const Moments& m, RangeModel model);
  /// The same as damage_per_s() with laws.
  double damage_per_s(const std::vector<PowerLaw>& laws) const;

  /// Cycles of one kind: ranges are 2 * amplitude_mpa * u, u with density u e^(-u^2/2) or e^(-u).
  struct Part {
    enum class Shape { rayleigh, exponential } shape = Shape::rayleigh;
    double per_s = 0;
    double amplitude_mpa = 1;
  };

 private:
  Moments moments_;
  RangeModel model_;
  std::array<Part, 3> parts_;  // without cycles where the stress does not move
};

}  // namespace seamwright::cycles
