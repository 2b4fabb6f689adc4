// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <array>
#include <boost/math/special_functions/erf.hpp>
#include <cmath>
#include <complex>
#include <limits>
#include <numbers>
#include <vector>

#include "engine/evidence/constants.h"
#include "engine/frame/check.h"
#include "engine/loads/state.h"

namespace seamwright::loads {
namespace {

using std::numbers::pi;
constexpr double m_s_per_km_h = 1 / 3.6;

double speed_of(const Leg& leg) {
  frame::check_number("speed_kmh", leg.id, leg.speed_kmh, "km/h", 0.1, 200);
  return leg.speed_kmh * m_s_per_km_h;
}

/// Widest panel that still follows the response from a frequency on.
class PanelWidth {
 public:
  PanelWidth(const Transfer& transfer, const std::vector<Track>& tracks, double speed_m_s) {
    double behind_m = 0;
    for (const Track& a : tracks)
      for (const Track& b : tracks) behind_m = std::max(behind_m, a.x_m - b.x_m);
    if (behind_m > 0) widest_hz_ = std::min(widest_hz_, speed_m_s / (8 * behind_m));
    for (Eigen::Index i = 0; i < transfer.poles().size(); ++i) {
      const std::complex<double> p = transfer.poles()[i] / (2 * pi);
      // A mode without damping has no finite response; its neighbourhood is cut at a ten-thousandth.
      peaks_.push_back({p.imag(), std::max(std::abs(p.real()), 1e-4 * std::abs(p))});
    }
  }

  double width_at(double frequency_hz) const {
    double width = std::min(widest_hz_, frequency_hz / 3);
    for (const Peak& p : peaks_)
      width = std::min(width, std::max(p.half_width_hz, 0.5 * std::abs(frequency_hz - p.centre_hz)));
    return width;
  }

 private:
  struct Peak {
    double centre_hz, half_width_hz;
  };
  double widest_hz_ = 0.25;
  std::vector<Peak> peaks_;
};

/// Heights of independent unit lines times sqrt(spectrum), wheels x wheels per frequency: the columns'
/// responses Y give Q conj(S) Q^H = Y Y^H.
void add_spectrum(const Road& road, const std::vector<Track>& tracks, const Quadrature& grid,
                  double speed_m_s, Spectra& s) {
  const auto wheels = static_cast<Eigen::Index>(tracks.size());
  for (Eigen::Index k = 0; k < grid.frequency_hz.size(); ++k) {
    const double f = grid.frequency_hz[k], cycles_m = f / speed_m_s;
    const double size = std::sqrt(road_psd_m2_hz(road, f, speed_m_s));
    const Eigen::MatrixXd root = coherence_root(road, tracks, cycles_m);
    for (Eigen::Index i = 0; i < wheels; ++i) {
      const Track& t = tracks[static_cast<std::size_t>(i)];
      const auto factor =
          std::polar(size * enveloping(cycles_m, t.contact_length_m), 2 * pi * cycles_m * t.x_m);
      s.heights_m.block(i, wheels * k, 1, wheels) = factor * root.row(i);
    }
    s.frequency_hz.segment(wheels * k, wheels).setConstant(f);
    s.weight_hz.segment(wheels * k, wheels).setConstant(grid.weight_hz[k]);
  }
}

/// The sine of setts as a line of the same variance, one column per track.
void add_pitch(const Road& road, const std::vector<Track>& tracks, double speed_m_s, Eigen::Index first,
               Spectra& s) {
  const double cycles_m = 1000 / road.pitch_mm, size = road.pitch_amplitude_mm / 1000 / std::sqrt(2.0);
  for (std::size_t i = 0; i < tracks.size(); ++i) {
    const Track& t = tracks[i];
    std::size_t column = 0;  // wheels on one track share its phase
    while (tracks[column].y_m != t.y_m) ++column;
    s.heights_m(static_cast<Eigen::Index>(i), first + static_cast<Eigen::Index>(column)) =
        std::polar(size * enveloping(cycles_m, t.contact_length_m), 2 * pi * cycles_m * t.x_m);
  }
  const auto wheels = static_cast<Eigen::Index>(tracks.size());
  s.frequency_hz.segment(first, wheels).setConstant(cycles_m * speed_m_s);
  s.weight_hz.segment(first, wheels).setOnes();
}

/// A recorded profile, once to and fro: one column per line.
Spectra profile_spectra(const Road& road, const std::vector<Track>& tracks, double speed_m_s,
                        double last_hz) {
  const double length_m = 2 * road.profile_step_m * static_cast<double>(road.profile_left_m.size() - 1);
  const double df = speed_m_s / length_m;
  const auto lines = static_cast<Eigen::Index>(last_hz / df) + 1;
  Spectra s;
  s.heights_m = synthesise_road(road, tracks, speed_m_s, df, lines, "") / std::sqrt(2.0);
  s.frequency_hz = df * Eigen::VectorXd::LinSpaced(lines, 0, static_cast<double>(lines - 1));
  s.weight_hz = Eigen::VectorXd::Ones(lines);
  return s;
}

Spectra without_answer(const State& state, const Transfer& transfer, const Road& road, const Leg& leg,
                       double highest_hz, double fineness) {
  const double speed = speed_of(leg), last_hz = std::min(highest_hz, road.max_cycles_m * speed);
  if (!road.profile_left_m.empty()) {
    check_road(road);
    return profile_spectra(road, state.tracks, speed, last_hz);
  }
  const Quadrature grid = leg_quadrature(state, transfer, road, leg, highest_hz, fineness);
  const auto wheels = static_cast<Eigen::Index>(state.tracks.size());
  const bool pitch = road.pitch_amplitude_mm > 0 && 1000 / road.pitch_mm * speed <= last_hz;
  const Eigen::Index first = wheels * grid.frequency_hz.size(), columns = first + (pitch ? wheels : 0);
  Spectra s;
  s.heights_m = Eigen::MatrixXcd::Zero(wheels, columns);
  s.frequency_hz.resize(columns);
  s.weight_hz.resize(columns);
  add_spectrum(road, state.tracks, grid, speed, s);
  if (pitch) add_pitch(road, state.tracks, speed, first, s);
  return s;
}

Eigen::MatrixXd moment(const Spectra& s, int order) {
  const Eigen::VectorXd root = (s.weight_hz.array() * s.frequency_hz.array().pow(order)).sqrt();
  const Eigen::MatrixXd re = s.answer.real * root.asDiagonal(), im = s.answer.imaginary * root.asDiagonal();
  Eigen::MatrixXd m = re * re.transpose();
  m.noalias() += im * im.transpose();
  return m;
}

/// Gaussian share below zero of a force with a mean and standard deviation.
double share_below_zero(double mean, double deviation) {
  if (deviation > 0) return 0.5 * boost::math::erfc(mean / (std::numbers::sqrt2 * deviation));
  return mean > 0 ? 0 : 1;
}

}  // namespace

Quadrature leg_quadrature(const State& state, const Transfer& transfer, const Road& road, const Leg& leg,
                          double highest_hz, double fineness) {
  check_road(road);
  const double speed = speed_of(leg);
  frame::check_number("highest_frequency_hz", leg.id, highest_hz, "Hz", 1, 1000);
  frame::check_number("fineness", leg.id, fineness, "", 0.1, 100);
  const PanelWidth width(transfer, state.tracks, speed);
  const double last = std::min(highest_hz, road.max_cycles_m * speed);
  // Gauss-Legendre, three points: +- sqrt(3/5) and 0 with 5/18, 8/18 of the panel.
  const std::array<double, 3> place{0.5 - std::sqrt(0.15), 0.5, 0.5 + std::sqrt(0.15)},
      share{5.0 / 18, 8.0 / 18, 5.0 / 18};
  std::vector<double> f, w;
  for (double from = road.min_cycles_m * speed; from < last;) {
    const double to = std::min(last, from + width.width_at(from) / fineness);
    for (std::size_t i = 0; i < 3; ++i) {
      f.push_back(from + (to - from) * place[i]);
      w.push_back((to - from) * share[i]);
    }
    from = to;
  }
  const auto size = static_cast<Eigen::Index>(f.size());
  return {Eigen::Map<const Eigen::VectorXd>(f.data(), size),
          Eigen::Map<const Eigen::VectorXd>(w.data(), size)};
}

MomentMatrices leg_moments(const State& state, const Transfer& transfer, const Road& road, const Leg& leg,
                           double highest_hz, double fineness) {
  return moments_of(leg_spectra(state, transfer, road, leg, highest_hz, fineness));
}

Spectra leg_spectra(const State& state, const Transfer& transfer, const Road& road, const Leg& leg,
                    double highest_hz, double fineness) {
  Spectra s = without_answer(state, transfer, road, leg, highest_hz, fineness);
  s.answer = transfer.respond(s.heights_m, s.frequency_hz);
  return s;
}

MomentMatrices moments_of(const Spectra& s) {
  return {moment(s, 0), moment(s, 1), moment(s, 2), moment(s, 4)};
}

LegLevels levels_of(const State& state, const Spectra& s, const std::string& saddle_node) {
  const auto saddle = state.assembly.node_index.find(saddle_node);
  if (saddle == state.assembly.node_index.end())
    throw Fault{
        Message{"frame.unknown-node", {text("node", saddle_node), text("user", "rider.saddle_node")}}};
  const frame::Assembly& a = state.assembly;
  const Eigen::MatrixXd contact = m_per_mm * (a.tyre_radial.transpose() * state.moving.shapes);
  // Compression of each tyre, m; its force k + i w c times that.
  const Eigen::ArrayXXd gap_re = s.heights_m.real() - contact * s.answer.real,
                        gap_im = s.heights_m.imag() - contact * s.answer.imaginary;
  const Eigen::ArrayXd omega = 2 * pi * s.frequency_hz.array();
  LegLevels levels;
  const Eigen::Index wheels = contact.rows();
  levels.wheel_force_sd_n.resize(wheels);
  levels.lift_share.resize(wheels);
  for (Eigen::Index j = 0; j < wheels; ++j) {
    const Eigen::ArrayXd gain =
        ((a.tyre_stiffness[j]) * (a.tyre_stiffness[j]) + (a.tyre_damping[j] * omega).square()) /
        (m_per_mm * m_per_mm);
    const Eigen::ArrayXd square = (gap_re.row(j).square() + gap_im.row(j).square()).transpose();
    levels.wheel_force_sd_n[j] = std::sqrt((gain * square * s.weight_hz.array()).sum());
    levels.lift_share[j] = share_below_zero(state.static_wheel_load_n[j], levels.wheel_force_sd_n[j]);
  }
  const Eigen::RowVectorXd rise = state.moving.shapes.row(6 * static_cast<Eigen::Index>(saddle->second) + 2);
  const Eigen::ArrayXd seat_re = (rise * s.answer.real).transpose(),
                       seat_im = (rise * s.answer.imaginary).transpose();
  const Eigen::ArrayXd acceleration =
      omega.pow(4) * (seat_re.square() + seat_im.square()) * s.weight_hz.array();
  levels.seat_acceleration_rms_m_s2 = m_per_mm * std::sqrt(acceleration.sum());
  return levels;
}

LegLevels leg_levels(const State& state, const Transfer& transfer, const Road& road, const Leg& leg,
                     double highest_hz, const std::string& saddle_node) {
  return levels_of(state, leg_spectra(state, transfer, road, leg, highest_hz, 1), saddle_node);
}

}  // namespace seamwright::loads
