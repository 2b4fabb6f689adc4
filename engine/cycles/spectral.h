// SPDX-License-Identifier: GPL-3.0-or-later
// Range distributions of a stationary Gaussian stress from the moments of its spectrum.
#pragma once

#include <functional>
#include <vector>

namespace seamwright::cycles {

/// m_n = integral of f^n G(f) df, one-sided G in MPa2/Hz, f in Hz.
struct Moments {
  double m0 = 0, m1 = 0, m2 = 0, m4 = 0;
};

double upcrossings_per_s(const Moments& m);
double peaks_per_s(const Moments& m);
double irregularity(const Moments& m);  ///< m2 / sqrt(m0 m4), dimensionless, 1 = narrow band

enum class RangeModel { dirlik, tovo_benasciutti, narrow_band };

/// Damage per second for an S-N relation given as damage_of_range (1/N for a range in MPa). Dirlik falls back on
/// Tovo-Benasciutti outside the spectra it was fitted to. 0 when m0 = 0. knees: ranges (MPa, ascending) where
/// damage_of_range has a kink or jump, so that quadrature splits there.
/// Source: Dirlik 1985; Benasciutti & Tovo, Int. J. Fatigue 27 (2005) 867 [from memory, see tests].
double damage_per_s(const Moments& m, RangeModel model, const std::function<double(double)>& damage_of_range,
                    const std::vector<double>& knees);

}  // namespace seamwright::cycles
