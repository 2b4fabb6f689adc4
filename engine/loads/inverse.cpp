// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/inverse.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <unsupported/Eigen/FFT>

#include "engine/evidence/constants.h"
#include "engine/frame/check.h"
#include "engine/loads/transform.h"

namespace seamwright::loads {

namespace {

using std::numbers::pi;

Eigen::RowVectorXd rise_of(const State& state, const std::string& node) {
  const auto at = state.assembly.node_index.find(node);
  if (at == state.assembly.node_index.end())
    throw Fault{Message{"frame.unknown-node", {text("node", node), text("user", "ride")}}};
  return state.moving.shapes.row(6 * static_cast<Eigen::Index>(at->second) + 2);
}

}  // namespace

double acceleration_rms_m_s2(const State& state, const Spectra& s, const std::string& node,
                             const Band& band) {
  const Eigen::RowVectorXd rise = rise_of(state, node);
  const Eigen::RowVectorXd re = rise * s.answer.real, im = rise * s.answer.imaginary;
  double sum = 0;
  for (Eigen::Index k = 0; k < s.frequency_hz.size(); ++k) {
    if (s.frequency_hz[k] < band.from_hz || s.frequency_hz[k] > band.to_hz) continue;
    const double square = std::pow(2 * pi * s.frequency_hz[k], 2) * m_per_mm;
    sum += square * square * (re[k] * re[k] + im[k] * im[k]) * s.weight_hz[k];
  }
  return std::sqrt(sum);
}

double equivalent_roughness_m3(const State& state, const Transfer& transfer, const std::string& node,
                               double speed_m_s, const Band& band, double measured_rms_m_s2) {
  Road road;
  road.id = std::string("measured");
  road.gd_n0_m3 = 16e-6;
  Leg leg;
  leg.id = road.id;
  leg.speed_kmh = 3.6 * speed_m_s;
  const Spectra s = leg_spectra(state, transfer, road, leg, std::max(1.0, band.to_hz));
  const double model = acceleration_rms_m_s2(state, s, node, band);
  if (!(model > 0)) throw Fault{Message{"loads.no-answer", {text("node", node)}}};
  return road.gd_n0_m3 * std::pow(measured_rms_m_s2 / model, 2);
}

std::vector<double> profile_from_acceleration(const State& state, const Transfer& transfer,
                                              const std::string& node, double speed_m_s, double rate_hz,
                                              std::span<const double> acceleration, const Band& band) {
  frame::check_number("samples", "ride", static_cast<double>(acceleration.size()), "", 32, 1e8);
  frame::check_number("speed", "ride", speed_m_s, "m/s", 0.1, 60);
  frame::check_number("rate", "ride", rate_hz, "Hz", 1, 1e5);
  frame::check_number("band.from", "ride", band.from_hz, "Hz", 0.01, rate_hz / 2);
  frame::check_number("band.to", "ride", band.to_hz, "Hz", band.from_hz, rate_hz / 2);
  const Eigen::RowVectorXd rise = rise_of(state, node);
  // Padded with zeros: what the end of the ride answers to must not come round to its beginning.
  const auto count = static_cast<Eigen::Index>(acceleration.size());
  const Eigen::Index size = smooth_size(count + static_cast<Eigen::Index>(10 * rate_hz));
  double mean = 0, front = state.tracks.front().x_m;
  for (const double a : acceleration) mean += a / static_cast<double>(count);
  for (const Track& t : state.tracks) front = std::max(front, t.x_m);
  Eigen::VectorXcd history = Eigen::VectorXcd::Zero(size), lines(size);
  for (Eigen::Index k = 0; k < count; ++k) history[k] = acceleration[static_cast<std::size_t>(k)] - mean;
  Eigen::FFT<double> fft;
  fft.fwd(lines, history);

  const double df = rate_hz / static_cast<double>(size);
  const auto first = std::max<Eigen::Index>(1, static_cast<Eigen::Index>(std::ceil(band.from_hz / df))),
             last = std::min((size - 1) / 2, static_cast<Eigen::Index>(std::floor(band.to_hz / df)));
  Eigen::VectorXcd answer = Eigen::VectorXcd::Zero(size);
  double largest = 0;
  for (Eigen::Index k = first; k <= last; ++k) {
    const double hz = df * static_cast<double>(k), cycles_m = hz / speed_m_s;
    Eigen::VectorXcd profile(static_cast<Eigen::Index>(state.tracks.size()));
    for (std::size_t w = 0; w < state.tracks.size(); ++w) {
      const Track& t = state.tracks[w];
      profile[static_cast<Eigen::Index>(w)] =
          std::polar(enveloping(cycles_m, t.contact_length_m), -2 * pi * cycles_m * (front - t.x_m));
    }
    const std::complex<double> height =
        (rise.cast<std::complex<double>>() * (transfer.response_at(hz) * profile)).value();
    answer[k] = -std::pow(2 * pi * hz, 2) * m_per_mm * height;
    largest = std::max(largest, std::abs(answer[k]));
  }
  if (!(largest > 0)) throw Fault{Message{"loads.no-answer", {text("node", node)}}};
  const double floor = 0.05 * largest;
  Eigen::VectorXcd heights = Eigen::VectorXcd::Zero(size);
  for (Eigen::Index k = first; k <= last; ++k) {
    const double gain = std::max(std::abs(answer[k]), floor);
    heights[k] = std::conj(answer[k]) * lines[k] / (gain * gain);
    heights[size - k] = std::conj(heights[k]);
  }
  fft.inv(history, heights);
  std::vector<double> out;
  for (Eigen::Index k = 0; k < count; ++k) out.push_back(history[k].real());
  return out;
}

}  // namespace seamwright::loads
