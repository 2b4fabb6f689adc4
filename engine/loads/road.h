// SPDX-License-Identifier: GPL-3.0-or-later
// ISO 8608:2016 roads: spectra, two tracks with coherence, synthesis.
#pragma once

#include <Eigen/Core>
#include <complex>
#include <string>
#include <vector>

#include "engine/evidence/evidence.h"
#include "engine/loads/duty.h"

namespace seamwright::loads {

/// Displacement spectrum in space, m3, one-sided.
double road_psd_m3(const Road& road, double cycles_m);
/// Displacement spectrum in time at a speed, m2/Hz, one-sided; 0 outside the road's band.
double road_psd_m2_hz(const Road& road, double frequency_hz, double speed_m_s);

struct RoadPsdResult {
  double gd_m3 = 0, gd_m2_hz = 0, velocity_m2_s = 0, acceleration_m2_s3 = 0;
  Evidence evidence;
};
/// All forms at one frequency with evidence.
RoadPsdResult road_psd(const Road& road, double frequency_hz, double speed_m_s);

/// Cross over direct spectrum of two parallel tracks a distance apart (real, 0..1). Isotropic surface: (2/Gamma(v)) (pi n B)^v
/// K_v(2 pi n B), v = w/2 [derived from Dodds & Robson 1973]; full = 1, none = 0.
double track_coherence(const Road& road, double cycles_m, double apart_m);

/// |sin(pi n l)/(pi n l)|: moving average over the contact length.
double enveloping(double cycles_m, double contact_length_m);

/// Positions of the wheels' tracks, m: x forward (a wheel behind meets the road later), y left.
struct Track {
  double x_m = 0, y_m = 0;
  double contact_length_m = 0;
};

/// Hermitian spectrum matrix of the road heights under the wheels, m2/Hz (tracks x tracks), S_xy = E[conj(X) Y].
Eigen::MatrixXcd road_matrix_m2_hz(const Road& road, const std::vector<Track>& tracks, double frequency_hz, double speed_m_s);

/// One realisation in lines: row per track, column per line k at frequency k * df, complex amplitudes A with
/// z(t) = sum Re(A exp(i 2 pi f t)), m. The seed's name and the leg's name fix every number, on any machine.
Eigen::MatrixXcd synthesise_road(const Road& road, const std::vector<Track>& tracks, double speed_m_s, double df_hz,
                                 Eigen::Index lines, const std::string& seed);

}  // namespace seamwright::loads
