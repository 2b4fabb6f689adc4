// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/ground.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

#include "engine/frame/check.h"
#include "engine/loads/transform.h"

namespace seamwright::loads {

namespace {

bool meets(const Obstacle& o, const std::string& wheel) {
  if (o.wheels == Side::both) return true;
  return wheel == (o.wheels == Side::left ? "FL" : "FR");
}

double hump_mm(double height, double length, double x) {
  // Radius of the arc of the given length of chord and height.
  const double r = (length * length / 4 + height * height) / (2 * height), from_middle = x - length / 2;
  return std::sqrt(std::max(0.0, r * r - from_middle * from_middle)) - (r - height);
}

double flat_mm(const Obstacle& o, double x) {
  const double end = 2 * o.ramp_mm + o.length_mm;
  if (x < o.ramp_mm) return o.height_mm * x / o.ramp_mm;
  if (x > end - o.ramp_mm) return o.height_mm * (end - x) / o.ramp_mm;
  return o.height_mm;
}

double length_of(const Obstacle& o) {
  return o.shape == Shape::flat_hump ? o.length_mm + 2 * o.ramp_mm : o.length_mm;
}

}  // namespace

double surface_mm(const Obstacle& o, double x) {
  if (o.shape == Shape::kerb_up) return x >= 0 ? o.height_mm : 0;
  if (o.shape == Shape::kerb_down) return x >= 0 ? -o.height_mm : 0;
  const double length = length_of(o);
  if (x < 0 || x > length) return 0;
  switch (o.shape) {
    case Shape::pothole:
      return -o.height_mm;
    case Shape::round_hump:
      return hump_mm(o.height_mm, length, x);
    case Shape::sine_hump:
      return o.height_mm / 2 * (1 - std::cos(2 * std::numbers::pi * x / length));
    case Shape::flat_hump:
      return flat_mm(o, x);
    default:
      return o.height_mm;
  }
}

std::vector<double> hub_path_mm(const Obstacle& o, double radius_mm, double before_mm, double step_mm,
                                std::size_t count) {
  const auto reach = static_cast<std::ptrdiff_t>(std::floor(radius_mm / step_mm));
  std::vector<double> rim;
  for (std::ptrdiff_t k = -reach; k <= reach; ++k) {
    const double x = static_cast<double>(k) * step_mm;
    rim.push_back(std::sqrt(std::max(0.0, radius_mm * radius_mm - x * x)) - radius_mm);
  }
  std::vector<double> surface;  // under all places that the rim comes over
  for (std::size_t i = 0; i + 1 < count + rim.size(); ++i)
    surface.push_back(surface_mm(o, static_cast<double>(static_cast<std::ptrdiff_t>(i) - reach) * step_mm - before_mm));
  std::vector<double> path;
  for (std::size_t i = 0; i < count; ++i) {
    double highest = -1e9;
    for (std::size_t k = 0; k < rim.size(); ++k) highest = std::max(highest, surface[i + k] + rim[k]);
    path.push_back(highest);
  }
  return path;
}

Ground ground_over(const Obstacle& o, const std::vector<WheelOnGround>& wheels, double speed_m_s,
                   double settle_s, double rate_hz) {
  frame::check_number("height_mm", o.id, o.height_mm, "mm", 0.1, 2000);
  frame::check_number("length_mm", o.id, o.length_mm, "mm", 0, 1e5);
  frame::check_number("ramp_mm", o.id, o.ramp_mm, "mm", 0, 1e5);
  frame::check_number("speed", o.id, speed_m_s, "m/s", 0.1, 60);
  frame::check_number("settle", o.id, settle_s, "s", 0, 60);
  double front = -1e9, rear = 1e9, largest = 0;
  for (const WheelOnGround& w : wheels) {
    front = std::max(front, w.track.x_m);
    rear = std::min(rear, w.track.x_m);
    largest = std::max(largest, w.radius_mm);
  }
  // The ground is level within half a wheel of the obstacle's ends and beyond.
  constexpr double step_mm = 2;
  const double before_mm = largest + step_mm, path_mm = length_of(o) + 2 * before_mm;
  const auto points = static_cast<std::size_t>(std::ceil(path_mm / step_mm)) + 1;
  const double seconds = path_mm / 1000 / speed_m_s + (front - rear) / speed_m_s + settle_s;
  const auto samples = static_cast<Eigen::Index>(std::ceil(seconds * rate_hz));
  Ground g{rate_hz, Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(wheels.size()), samples),
           Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(wheels.size()), samples)};
  std::map<double, std::vector<double>> paths;  // by the wheels' radius
  for (std::size_t w = 0; w < wheels.size(); ++w) {
    if (!meets(o, wheels[w].id)) continue;
    std::vector<double>& path = paths[wheels[w].radius_mm];
    if (path.empty()) path = hub_path_mm(o, wheels[w].radius_mm, before_mm, step_mm, points);
    for (Eigen::Index i = 0; i < samples; ++i) {
      const double run_m = speed_m_s * static_cast<double>(i) / rate_hz - (front - wheels[w].track.x_m);
      const double at = std::clamp(1000 * run_m / step_mm, 0.0, static_cast<double>(points - 1));
      const auto k = std::min(static_cast<std::size_t>(at), points - 2);
      const double part = at - static_cast<double>(k);
      const auto row = static_cast<Eigen::Index>(w);
      g.height_m(row, i) = ((1 - part) * path[k] + part * path[k + 1]) / 1000;
      g.slope(row, i) = (path[k + 1] - path[k]) / step_mm;
    }
  }
  return g;
}

Ground road_ground(const Road& road, const std::vector<Track>& tracks, double speed_m_s, double highest_hz,
                   double rate_hz, Eigen::Index samples, const std::string& seed) {
  const Eigen::Index size = smooth_size(std::max<Eigen::Index>(samples, 2));
  const double df = rate_hz / static_cast<double>(size);
  const double last_hz = std::min(highest_hz, road.max_cycles_m * speed_m_s);
  const Eigen::Index count =
      std::min(static_cast<Eigen::Index>(std::floor(last_hz / df)) + 1, (size + 1) / 2);
  const Eigen::MatrixXcd heights = synthesise_road(road, tracks, speed_m_s, df, count, seed);
  Ground g{rate_hz, Eigen::MatrixXd(heights.rows(), samples), Eigen::MatrixXd::Zero(heights.rows(), samples)};
  transform_rows(heights.real(), heights.imag(), size, g.height_m);
  // The ride begins at rest: at the first heights, which a trike on three wheels follows without stress, and
  // with a second of growing waves.
  const Eigen::VectorXd first = g.height_m.col(0);
  g.height_m.colwise() -= first;
  const auto ramp = std::min(samples, static_cast<Eigen::Index>(rate_hz));
  for (Eigen::Index i = 0; i < ramp; ++i)
    g.height_m.col(i) *=
        (1 - std::cos(std::numbers::pi * static_cast<double>(i) / static_cast<double>(ramp))) / 2;
  return g;
}

}  // namespace seamwright::loads
