// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "engine/frame/check.h"
#include "engine/loads/state.h"
#include "engine/loads/transform.h"

namespace seamwright::loads {
namespace {

constexpr double m_s_per_km_h = 1 / 3.6;

/// share: of the leg that could be held.
Fault too_long(const Leg& leg, double samples, double share) {
  return Fault{Message{"loads.leg-too-long",
                       {text("leg", leg.id), number("samples", samples, ""),
                        number("most_distance", share * leg.distance_km, "km"),
                        sentence_argument("remedy", "remedy.shorter-leg")}}};
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
  transform_rows(lines.real, lines.imaginary, size, histories);
  return histories;
}

}  // namespace seamwright::loads
