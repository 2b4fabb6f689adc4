// SPDX-License-Identifier: GPL-3.0-or-later
// A measured acceleration leads back to the road, through the model.
#pragma once

#include <span>

#include "engine/loads/state.h"

namespace seamwright::loads {

struct Band {
  double from_hz = 0, to_hz = 0;
};

/// Vertical acceleration of a node, m/s2 RMS in a band, from a leg's spectra. Throws Fault
/// "frame.unknown-node".
double acceleration_rms_m_s2(const State& state, const Spectra& spectra, const std::string& node,
                             const Band& band);

/// Roughness G_d(n0) with waviness 2 on which the model shakes as much as was measured in the band: responses
/// grow with its root (ISO 8608:2016). coherence and speed as ridden. Throws Fault "loads.no-answer" when the
/// node does not move in the band.
double equivalent_roughness_m3(const State& state, const Transfer& transfer, const std::string& node,
                               double speed_m_s, const Band& band, double measured_rms_m_s2);

/// The profile, m at equal steps of speed / rate, that makes the node shake as recorded: all wheels on one
/// profile, the rear later by its distance, divided line by line by the model's answer with a floor of 5 % of
/// its largest value in the band (below it a line is damped, never blown up); nothing outside the band.
/// Linear: no wheel lifts. acceleration: upwards, m/s2, without gravity or with its mean left in (it is taken
/// out). Throws Fault "loads.no-answer", "frame.bad-number" for under 32 samples, rates, speeds or bands that
/// cannot be.
std::vector<double> profile_from_acceleration(const State& state, const Transfer& transfer,
                                              const std::string& node, double speed_m_s, double rate_hz,
                                              std::span<const double> acceleration, const Band& band);

}  // namespace seamwright::loads
