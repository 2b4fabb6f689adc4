// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/road.h"

#include <algorithm>
#include <boost/math/special_functions/bessel.hpp>
#include <boost/math/special_functions/gamma.hpp>
#include <cmath>
#include <map>
#include <numbers>
#include <unsupported/Eigen/FFT>

#include "engine/frame/check.h"
#include "engine/loads/random.h"

namespace seamwright::loads {
namespace {

using std::numbers::pi;
using Double = boost::math::policies::policy<boost::math::policies::promote_double<false>>;
constexpr int most_tracks = 16;
using SmallMatrix = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, most_tracks, most_tracks>;
using SmallVector = Eigen::Matrix<std::complex<double>, Eigen::Dynamic, 1, 0, most_tracks, 1>;
constexpr double n0_cycles_m = 0.1;
// ISO 8608:2016, upper bound of class D at n0; from memory.
constexpr double class_d_upper_m3 = 2048e-6;

void check_speed(const Road& road, double speed_m_s) {
  frame::check_number("speed", road.id, speed_m_s, "m/s", 0.01, 100);
}

double power_law_m3(const Road& road, double cycles_m) {
  if (!(cycles_m >= road.min_cycles_m && cycles_m <= road.max_cycles_m)) return 0;
  const double ratio = cycles_m / n0_cycles_m;
  return road.gd_n0_m3 * (road.waviness == 2 ? 1 / (ratio * ratio) : std::pow(ratio, -road.waviness));
}

double isotropic(double waviness, double cycles_m, double apart_m) {
  const double order = waviness / 2, x = 2 * pi * cycles_m * apart_m;
  // The ratio is 1 below this x to within rounding for order 1 and above, and 1 - 1e-3 for order 0.25.
  if (x < 1e-8) return 1;
  if (x > 700) return 0;
  if (waviness == 2) return std::min(1.0, x * boost::math::cyl_bessel_k(1, x, Double()));
  const double value = 2 / boost::math::tgamma(order, Double()) * std::pow(x / 2, order) *
                       boost::math::cyl_bessel_k(order, x, Double());
  return std::min(1.0, value);
}

// The form of Ammon (1992), from memory. A power of the distance above 2 is the covariance of no surface.
double fitted(const Road& road, double cycles_m, double apart_m) {
  const double reach = std::min(road.fit.reach, 2 / road.waviness),
               ratio = 2 * pi * cycles_m * std::pow(apart_m, reach) / road.fit.knee_rad_m;
  return std::pow(1 + std::pow(ratio, road.waviness), -road.fit.power);
}

double coherence(const Road& road, double cycles_m, double apart_m) {
  const double apart = std::abs(apart_m);
  if (apart == 0 || road.coherence == Coherence::full) return 1;
  if (road.coherence == Coherence::none) return 0;
  return road.coherence == Coherence::fitted ? fitted(road, cycles_m, apart) : isotropic(road.waviness, cycles_m, apart);
}

double moving_average(double cycles_m, double contact_length_m) {
  const double x = pi * cycles_m * contact_length_m;
  return std::abs(x) < 1e-8 ? 1 : std::abs(std::sin(x) / x);
}

void check_tracks(const Road& road, const std::vector<Track>& tracks) {
  constexpr double largest_m = 100, longest_contact_m = 1;
  frame::check_number("tracks", road.id, static_cast<double>(tracks.size()), "", 1, most_tracks);
  for (const Track& t : tracks) {
    frame::check_number("x_m", road.id, t.x_m, "m", -largest_m, largest_m);
    frame::check_number("y_m", road.id, t.y_m, "m", -largest_m, largest_m);
    frame::check_number("contact_length_m", road.id, t.contact_length_m, "m", 0, longest_contact_m);
  }
}

double foremost_m(const std::vector<Track>& tracks) {
  double x = tracks.front().x_m;
  for (const Track& t : tracks) x = std::max(x, t.x_m);
  return x;
}

/// Lower triangle with L L' = the coherence matrix; pivots at rounding level count as zero.
SmallMatrix root_of(const Road& road, const std::vector<Track>& tracks, double cycles_m) {
  const auto n = static_cast<Eigen::Index>(tracks.size());
  SmallMatrix root = SmallMatrix::Zero(n, n);
  const auto y = [&tracks](Eigen::Index i) { return tracks[static_cast<std::size_t>(i)].y_m; };
  for (Eigen::Index j = 0; j < n; ++j) {
    double pivot = 1;
    for (Eigen::Index k = 0; k < j; ++k) pivot -= root(j, k) * root(j, k);
    if (pivot < 1e-12) continue;
    root(j, j) = std::sqrt(pivot);
    for (Eigen::Index i = j + 1; i < n; ++i) {
      double value = coherence(road, cycles_m, y(i) - y(j));
      for (Eigen::Index k = 0; k < j; ++k) value -= root(i, k) * root(j, k);
      root(i, j) = value / root(j, j);
    }
  }
  return root;
}

// Height of the recorded profile at a place, m: to and fro without end.
double profile_m(const Road& road, double along_m, double y_m) {
  const auto last = static_cast<double>(road.profile_left_m.size() - 1);
  double at = std::fmod(std::abs(along_m) / road.profile_step_m, 2 * last);
  if (at > last) at = 2 * last - at;
  const auto k = std::min(static_cast<std::size_t>(at), road.profile_left_m.size() - 2);
  const double part = at - static_cast<double>(k);
  const auto height = [&](const std::vector<double>& z) { return (1 - part) * z[k] + part * z[k + 1]; };
  const double left = height(road.profile_left_m), right = height(road.profile_right_m);
  return y_m > 1e-6 ? left : y_m < -1e-6 ? right : (left + right) / 2;
}

Eigen::MatrixXcd profile_lines(const Road& road, const std::vector<Track>& tracks, double speed_m_s,
                               double df_hz, Eigen::Index lines) {
  // Sampled eight times finer than the last line needs, so that little folds back.
  const Eigen::Index size = 16 * std::max<Eigen::Index>(lines, 1);
  const double front = foremost_m(tracks), step_s = 1 / (df_hz * static_cast<double>(size));
  Eigen::FFT<double> fft;
  Eigen::VectorXcd history(size), spectrum(size);
  Eigen::MatrixXcd heights = Eigen::MatrixXcd::Zero(static_cast<Eigen::Index>(tracks.size()), lines);
  for (std::size_t i = 0; i < tracks.size(); ++i) {
    const auto height_at = [&](Eigen::Index k) {
      const double ridden_m = road.profile_from_m + speed_m_s * step_s * static_cast<double>(k);
      return profile_m(road, ridden_m - (front - tracks[i].x_m), tracks[i].y_m);
    };
    // The lines repeat: a steady slope takes the step out of the joint, and stresses nothing.
    const double first = height_at(0), rise = (height_at(size) - first) / static_cast<double>(size);
    for (Eigen::Index k = 0; k < size; ++k) history[k] = height_at(k) - first - rise * static_cast<double>(k);
    fft.fwd(spectrum, history);
    for (Eigen::Index k = 1; k < lines; ++k)
      heights(static_cast<Eigen::Index>(i), k) =
          2.0 / static_cast<double>(size) * spectrum[k] *
          moving_average(static_cast<double>(k) * df_hz / speed_m_s, tracks[i].contact_length_m);
  }
  return heights;
}

// The sine of setts: each track in its own phase, a wheel behind on the same track later.
void add_pitch(const Road& road, const std::vector<Track>& tracks, double speed_m_s, double df_hz,
               NamedRandom& random, Eigen::MatrixXcd& heights) {
  const double cycles_m = 1000 / road.pitch_mm;
  const auto line = static_cast<Eigen::Index>(std::llround(cycles_m * speed_m_s / df_hz));
  if (line >= heights.cols()) return;
  const double front = foremost_m(tracks);
  std::map<double, double> phases;
  for (std::size_t i = 0; i < tracks.size(); ++i) {
    const Track& t = tracks[i];
    if (!phases.contains(t.y_m)) {
      const double a = random.normal();
      phases[t.y_m] = std::atan2(a, random.normal());
    }
    heights(static_cast<Eigen::Index>(i), line) +=
        std::polar(road.pitch_amplitude_mm / 1000 * moving_average(cycles_m, t.contact_length_m),
                   phases[t.y_m] - 2 * pi * cycles_m * (front - t.x_m));
  }
}

}  // namespace

void check_road(const Road& road) {
  frame::check_number("gd_n0_m3", road.id, road.gd_n0_m3, "m3", 0, 1);
  frame::check_number("waviness", road.id, road.waviness, "", 0.5, 5);
  frame::check_number("min_cycles_m", road.id, road.min_cycles_m, "cycles/m", 1e-4, 1000);
  frame::check_number("max_cycles_m", road.id, road.max_cycles_m, "cycles/m", 1e-4, 1000);
  if (!(road.min_cycles_m < road.max_cycles_m))
    throw Fault{Message{"loads.empty-band",
                        {text("road", road.id), number("min", road.min_cycles_m, "cycles/m"),
                         number("max", road.max_cycles_m, "cycles/m")}}};
  if (road.coherence == Coherence::fitted) {
    frame::check_number("knee_rad_m", road.id, road.fit.knee_rad_m, "rad/m", 0.01, 100);
    frame::check_number("power", road.id, road.fit.power, "", 0.01, 100);
    frame::check_number("reach", road.id, road.fit.reach, "", 0.1, 2);
  }
  if (road.pitch_amplitude_mm != 0) {
    frame::check_number("pitch_amplitude_mm", road.id, road.pitch_amplitude_mm, "mm", 0, 100);
    frame::check_number("pitch_mm", road.id, road.pitch_mm, "mm", 10, 1e4);
  }
  if (!road.profile_left_m.empty()) {
    frame::check_number("profile_step_m", road.id, road.profile_step_m, "m", 1e-3, 10);
    const auto size = static_cast<double>(road.profile_left_m.size());
    frame::check_number("profile", road.id, size, "", 10, 1e7);
    frame::check_number("profile_right", road.id, static_cast<double>(road.profile_right_m.size()), "", size,
                        size);
  }
}

double road_psd_m3(const Road& road, double cycles_m) {
  check_road(road);
  return power_law_m3(road, cycles_m);
}

double road_psd_m2_hz(const Road& road, double frequency_hz, double speed_m_s) {
  check_road(road);
  check_speed(road, speed_m_s);
  return power_law_m3(road, frequency_hz / speed_m_s) / speed_m_s;
}

RoadPsdResult road_psd(const Road& road, double frequency_hz, double speed_m_s) {
  check_road(road);
  check_speed(road, speed_m_s);
  frame::check_number("frequency", road.id, frequency_hz, "Hz", 0, 1e6);
  const double cycles_m = frequency_hz / speed_m_s, omega = 2 * pi * frequency_hz;
  RoadPsdResult r;
  r.gd_m3 = power_law_m3(road, cycles_m);
  r.gd_m2_hz = r.gd_m3 / speed_m_s;
  r.velocity_m2_s = omega * omega * r.gd_m2_hz;
  r.acceleration_m2_s3 = omega * omega * r.velocity_m2_s;
  Evidence& e = r.evidence;
  e.figure = "road-spectrum";
  e.value = r.gd_m2_hz;
  e.unit = "m2/Hz";
  e.source = {"iso-8608-2016", "displacement spectrum by classes"};
  e.from_memory = true;
  e.inputs = {{"gd_n0", road.gd_n0_m3, "m3"},
              {"waviness", road.waviness, ""},
              {"frequency", frequency_hz, "Hz"},
              {"speed", speed_m_s, "m/s"}};
  e.limits = {limit("spatial_frequency", cycles_m, "cycles/m", 0.01, 10),
              limit("waviness", road.waviness, "", 2, 2),
              limit("roughness_at_0.1_cycles_per_m", road.gd_n0_m3, "m3", 0, class_d_upper_m3)};
  if (!e.limits.back().inside)
    e.notes.push_back({"loads.rough-road", {text("road", road.id), number("gd_n0", road.gd_n0_m3, "m3")}});
  if (!all_inside(e.limits)) e.coverage = Coverage::extended;
  return r;
}

double track_coherence(const Road& road, double cycles_m, double apart_m) {
  check_road(road);
  frame::check_number("spatial frequency", road.id, cycles_m, "cycles/m", 0, 1e6);
  frame::check_number("apart_m", road.id, apart_m, "m", -1000, 1000);
  return coherence(road, cycles_m, apart_m);
}

double enveloping(double cycles_m, double contact_length_m) {
  frame::check_number("spatial frequency", "enveloping", cycles_m, "cycles/m", 0, 1e6);
  frame::check_number("contact_length_m", "enveloping", contact_length_m, "m", 0, 1);
  return moving_average(cycles_m, contact_length_m);
}

Eigen::MatrixXd coherence_root(const Road& road, const std::vector<Track>& tracks, double cycles_m) {
  check_road(road);
  check_tracks(road, tracks);
  frame::check_number("spatial frequency", road.id, cycles_m, "cycles/m", 0, 1e6);
  return root_of(road, tracks, cycles_m);
}

Eigen::MatrixXcd road_matrix_m2_hz(const Road& road, const std::vector<Track>& tracks, double frequency_hz,
                                   double speed_m_s) {
  check_road(road);
  check_speed(road, speed_m_s);
  check_tracks(road, tracks);
  const auto n = static_cast<Eigen::Index>(tracks.size());
  const double cycles_m = frequency_hz / speed_m_s;
  const double direct = power_law_m3(road, cycles_m) / speed_m_s;
  Eigen::MatrixXcd s = Eigen::MatrixXcd::Zero(n, n);
  if (direct == 0) return s;
  for (Eigen::Index i = 0; i < n; ++i)
    for (Eigen::Index j = 0; j < n; ++j) {
      const Track &a = tracks[static_cast<std::size_t>(i)], &b = tracks[static_cast<std::size_t>(j)];
      const double size = direct * coherence(road, cycles_m, a.y_m - b.y_m) *
                          moving_average(cycles_m, a.contact_length_m) *
                          moving_average(cycles_m, b.contact_length_m);
      s(i, j) = std::polar(size, -2 * pi * cycles_m * (a.x_m - b.x_m));
    }
  return s;
}

Eigen::MatrixXcd synthesise_road(const Road& road, const std::vector<Track>& tracks, double speed_m_s,
                                 double df_hz, Eigen::Index lines, const std::string& seed) {
  check_road(road);
  check_speed(road, speed_m_s);
  check_tracks(road, tracks);
  frame::check_number("line spacing", road.id, df_hz, "Hz", 1e-9, 1e6);
  frame::check_number("lines", road.id, static_cast<double>(lines), "", 0, 1e8);
  if (!road.profile_left_m.empty()) return profile_lines(road, tracks, speed_m_s, df_hz, lines);
  const auto n = static_cast<Eigen::Index>(tracks.size());
  const double front = foremost_m(tracks);
  NamedRandom random(seed);
  Eigen::MatrixXcd heights = Eigen::MatrixXcd::Zero(n, lines);
  SmallVector independent(n);
  for (Eigen::Index k = 0; k < lines; ++k) {
    const double cycles_m = static_cast<double>(k) * df_hz / speed_m_s;
    const double direct = power_law_m3(road, cycles_m) / speed_m_s;
    if (direct == 0) continue;
    for (Eigen::Index i = 0; i < n; ++i) {
      const double re = random.normal();
      independent[i] = {re, random.normal()};
    }
    const SmallVector correlated = root_of(road, tracks, cycles_m) * independent;
    const double amplitude = std::sqrt(direct * df_hz);
    for (Eigen::Index i = 0; i < n; ++i) {
      const Track& t = tracks[static_cast<std::size_t>(i)];
      heights(i, k) = correlated[i] * std::polar(amplitude * moving_average(cycles_m, t.contact_length_m),
                                                 -2 * pi * cycles_m * (front - t.x_m));
    }
  }
  if (road.pitch_amplitude_mm > 0) add_pitch(road, tracks, speed_m_s, df_hz, random, heights);
  return heights;
}

}  // namespace seamwright::loads
