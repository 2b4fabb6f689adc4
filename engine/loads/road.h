// SPDX-License-Identifier: GPL-3.0-or-later
// ISO 8608:2016 roads: spectra, tracks with coherence, synthesis. Spectra are one-sided.
#pragma once

#include <Eigen/Core>
#include <complex>
#include <string>
#include <vector>

#include "engine/evidence/evidence.h"
#include "engine/loads/duty.h"

namespace seamwright::loads {

/// Throws Fault "frame.bad-number" unless gd_n0_m3 is in 0..1, waviness in 0.5..5 and the band within
/// 1e-4..1000 cycles/m and not upside down ("loads.empty-band").
void check_road(const Road& road);

/// Displacement spectrum in space, m2/(cycles/m) = m3; 0 outside the road's band.
double road_psd_m3(const Road& road, double cycles_m);
/// Displacement spectrum in time at a speed, m2/Hz: G_d(n) / v at n = f / v; 0 outside the road's band.
/// Throws Fault "frame.bad-number" for a speed outside 0.01..100 m/s.
double road_psd_m2_hz(const Road& road, double frequency_hz, double speed_m_s);

struct RoadPsdResult {
  double gd_m3 = 0, gd_m2_hz = 0, velocity_m2_s = 0, acceleration_m2_s3 = 0;
  Evidence evidence;
};
/// All forms at one frequency with evidence. The evidence's limits are the on-road band of ISO 8608:2016,
/// 0.01 to 10 cycles/m, the waviness 2 of its classes, and roughness no worse than class D (a worse one is
/// outside what cycles ride on every day: note "loads.rough-road").
RoadPsdResult road_psd(const Road& road, double frequency_hz, double speed_m_s);

/// Cross over direct spectrum of two parallel tracks a distance apart: real, 0..1; its square is the ordinary
/// coherence. isotropic: (2/Gamma(v)) (pi n B)^v K_v(2 pi n B), v = w/2, derived for a power-law spectrum
/// from the isotropic surface of Dodds & Robson (1973); 1 for n or B = 0. full = 1. none = 0 (1 on the same
/// track, B = 0). fitted: see CoherenceFit; Fault "frame.bad-number" where the road has no fit. The sign of apart_m does not matter.
double track_coherence(const Road& road, double cycles_m, double apart_m);

/// |sin(pi n l)/(pi n l)|: moving average over the contact length.
double enveloping(double cycles_m, double contact_length_m);

/// Positions of the wheels' tracks, m: x forward (a wheel behind meets the road later), y left.
struct Track {
  double x_m = 0, y_m = 0;
  double contact_length_m = 0;
};

/// Hermitian spectrum matrix of the road heights under the wheels, m2/Hz (tracks x tracks), S_xy = E[conj(X)
/// Y]. A response y = sum h_x X has the spectrum h conj(S) h^H.
Eigen::MatrixXcd road_matrix_m2_hz(const Road& road, const std::vector<Track>& tracks, double frequency_hz,
                                   double speed_m_s);

/// Square root L of the real coherence matrix at a spatial frequency, L L' = [coherence of tracks i and j];
/// lower triangle. Tracks that say nothing new (a wheel on another's track) get a zero on the diagonal.
Eigen::MatrixXd coherence_root(const Road& road, const std::vector<Track>& tracks, double cycles_m);

/// One realisation in lines: row per track, column per line k at frequency k * df, complex amplitudes A with
/// z(t) = sum Re(A exp(i 2 pi f t)), m. Real and imaginary parts are Gaussian, so the variance of z over the
/// seeds is the spectrum's integral. The seed fixes every number, on any machine; lines outside the band use
/// up no random numbers. The sine of setts takes the nearest line; above the last line it is left out. A
/// recorded profile gives its own lines, whatever the seed.
Eigen::MatrixXcd synthesise_road(const Road& road, const std::vector<Track>& tracks, double speed_m_s,
                                 double df_hz, Eigen::Index lines, const std::string& seed);

}  // namespace seamwright::loads
