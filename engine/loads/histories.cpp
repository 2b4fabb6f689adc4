// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <complex>
#include <unsupported/Eigen/FFT>

#include "engine/frame/check.h"
#include "engine/loads/state.h"

namespace seamwright::loads {
namespace {

constexpr double m_s_per_km_h = 1 / 3.6;

/// share: of the leg that could be held.
Fault too_long(const Leg& leg, double samples, double share) {
  return Fault{Message{"loads.leg-too-long",
                       {text("leg", leg.id), number("samples", samples, ""),
                        number("most_distance", share * leg.distance_km, "km")}}};
}

/// Smallest 2^a 3^b 5^c that is not below: fast to transform.
Eigen::Index smooth_size(Eigen::Index least) {
  Eigen::Index best = 1;
  while (best < least) best *= 2;
  for (Eigen::Index five = 1; five < best; five *= 5)
    for (Eigen::Index three = five; three < best; three *= 3) {
      Eigen::Index size = three;
      while (size < least) size *= 2;
      best = std::min(best, size);
    }
  return best;
}

/// Histories from half spectra of amplitudes: two real rows go through one complex transform.
void transform_rows(const Transfer::Lines& lines, Eigen::Index size, Eigen::MatrixXd& histories) {
  Eigen::FFT<double> fft;
  fft.SetFlag(Eigen::FFT<double>::Unscaled);
  Eigen::VectorXcd spectrum(size), history(size);
  const Eigen::Index rows = histories.rows(), count = lines.real.cols();
  for (Eigen::Index r = 0; r < rows; r += 2) {
    const bool pair = r + 1 < rows;
    spectrum.setZero();
    for (Eigen::Index k = 1; k < count; ++k) {
      const double are = lines.real(r, k), aim = lines.imaginary(r, k);
      const double bre = pair ? lines.real(r + 1, k) : 0, bim = pair ? lines.imaginary(r + 1, k) : 0;
      spectrum[k] = {(are - bim) / 2, (aim + bre) / 2};
      spectrum[size - k] = {(are + bim) / 2, (bre - aim) / 2};
    }
    fft.inv(history, spectrum);
    for (Eigen::Index i = 0; i < histories.cols(); ++i) {
      histories(r, i) = history[i].real();
      if (pair) histories(r + 1, i) = history[i].imag();
    }
  }
}

}  // namespace

Eigen::Index leg_samples(const Leg& leg, double sample_rate_hz) {
  frame::check_number("distance_km", leg.id, leg.distance_km, "km", 0, 1e5);
  frame::check_number("speed_kmh", leg.id, leg.speed_kmh, "km/h", 0.1, 200);
  frame::check_number("sample_rate_hz", leg.id, sample_rate_hz, "Hz", 1, 1e5);
  const double samples = leg.distance_km * 3600 / leg.speed_kmh * sample_rate_hz;
  constexpr double most = 2e8;
  if (samples > most) throw too_long(leg, samples, most / samples);
  return std::max<Eigen::Index>(1, std::llround(samples));
}

Eigen::MatrixXd leg_coordinates(const State& state, const Transfer& transfer, const Road& road,
                                const Leg& leg, double sample_rate_hz, double highest_hz,
                                const std::string& seed) {
  const Eigen::Index samples = leg_samples(leg, sample_rate_hz);
  frame::check_number("highest_frequency_hz", leg.id, highest_hz, "Hz", 1, 1000);
  check_road(road);
  constexpr double most_values = 5e8;
  const double values = static_cast<double>(samples) * static_cast<double>(transfer.coordinates());
  if (values > most_values) throw too_long(leg, static_cast<double>(samples), most_values / values);
  const double speed = leg.speed_kmh * m_s_per_km_h;
  const Eigen::Index size = smooth_size(std::max<Eigen::Index>(samples, 2));
  const double df = sample_rate_hz / static_cast<double>(size);
  const double last_hz = std::min(highest_hz, road.max_cycles_m * speed);
  // Lines from 0; the one at half the rate is left out, its phase could not be told.
  const Eigen::Index count =
      std::min(static_cast<Eigen::Index>(std::floor(last_hz / df)) + 1, (size + 1) / 2);
  const Eigen::MatrixXcd heights = synthesise_road(road, state.tracks, speed, df, count, seed + "/" + leg.id);
  Transfer::Lines lines{Eigen::MatrixXd(transfer.coordinates(), count),
                        Eigen::MatrixXd(transfer.coordinates(), count)};
  constexpr Eigen::Index block = 512;
  for (Eigen::Index k = 0; k < count; k += block) {
    const Eigen::Index width = std::min(block, count - k);
    const Eigen::VectorXd f =
        df * Eigen::VectorXd::LinSpaced(width, static_cast<double>(k), static_cast<double>(k + width - 1));
    const Transfer::Lines part = transfer.respond(heights.middleCols(k, width), f);
    lines.real.middleCols(k, width) = part.real;
    lines.imaginary.middleCols(k, width) = part.imaginary;
  }
  Eigen::MatrixXd histories(transfer.coordinates(), samples);
  transform_rows(lines, size, histories);
  return histories;
}

}  // namespace seamwright::loads
