// SPDX-License-Identifier: GPL-3.0-or-later
#include "catalog/files/recorded_ride.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "catalog/published/nearest.h"
#include "catalog/published/published_data.h"
#include "engine/evidence/constants.h"
#include "engine/rating/job.h"
#include "engine/signal/resample.h"

namespace seamwright::files {

namespace {

double factor_to(const RecordedChannel& c, const std::string& unit, double youngs_mpa) {
  if (c.unit == unit) return 1;
  if (unit == "m/s2" && c.unit == "g") return gravity_m_s2;
  if (unit == "MPa" && c.unit == "microstrain") return youngs_mpa * 1e-6;
  throw Fault{
      Message{"ride.wrong-unit", {text("channel", c.name), text("unit", c.unit), text("wanted", unit)}}};
}

// The channel on the survey's grid, gaps left out.
std::vector<double> on_grid(const Ride& r, std::size_t channel, double factor) {
  std::vector<double> values;
  signal::Resampler grid(1, r.survey.rate_hz, r.survey.gap_s, [&](std::span<const double> v, bool) {
    if (std::isfinite(v[0])) values.push_back(factor * v[0]);
  });
  read_rows(r.recording, [&](double t, std::span<const double> v) {
    grid.push(t - r.survey.start_s, v.subspan(channel, 1));
  });
  grid.finish();
  return values;
}

std::string class_of(double gd_n0_m3) {
  std::string best;
  double least = 1e9;
  for (const published::RoadClass& c : published::catalog().road_classes) {
    const double away = std::abs(std::log(gd_n0_m3 / c.mean_m3));
    if (away < least) best = c.id;
    least = std::min(least, away);
  }
  return best;
}

// The road of the recorded acceleration, and its profile where one is asked for.
void add_road(const RideQuestion& q, const rating::Job& job, Ride& r) {
  const measured::RiddenAt& at = *q.road;
  const std::size_t channel = channel_index(r.recording, q.channel);
  const double factor = factor_to(r.recording.channels[channel], "m/s2", 0);
  const double rate = r.survey.rate_hz;
  r.road = measured::ridden_road(job, at, r.survey.channels[channel], rate, factor);
  r.road_class = class_of(r.road->gd_n0_m3);
  if (q.profile.empty()) return;
  r.profile = q.profile;
  r.heights = fmt::format(
      "# heights in m, every {:.6g} m: from {} at node {}, {:g} km/h, {:g} to {:g} Hz\n"
      "height_m\n",
      at.speed_kmh / 3.6 / rate, q.channel, at.node, at.speed_kmh, r.road->from_hz, r.road->to_hz);
  for (const double z : measured::ridden_profile(job, at, *r.road, rate, on_grid(r, channel, factor)))
    fmt::format_to(std::back_inserter(r.heights), "{:.6g}\n", z);
}

const fatigue::Curve& curve_named(const std::string& id) {
  std::vector<std::string> names;
  for (const fatigue::Curve& c : published::catalog().data.curves) {
    if (c.id == id) return c;
    names.push_back(c.id);
  }
  throw Fault{
      Message{"ride.unknown-curve", {text("curve", id), text("nearest", published::nearest_or_some(id, names))}}};
}

void add_damage(const RideQuestion& q, Ride& r) {
  const fatigue::Curve& curve = curve_named(q.damage->curve);
  const std::size_t channel = channel_index(r.recording, q.channel);
  const double factor = factor_to(r.recording.channels[channel], "MPa", 210000);
  r.channel = q.channel;
  r.curve = curve.id;
  r.damage =
      measured::stress_damage(curve, q.damage->thickness_mm, on_grid(r, channel, factor), q.damage->km);
}

}  // namespace

Ride work_through(const RideQuestion& q, const rating::Job* job) {
  Ride r;
  r.recording = inspect_recording(q.file, q.reading);
  r.survey = signal::survey(
      r.recording.channels.size(),
      [&](const std::function<void(double, std::span<const double>)>& sink) {
        r.skipped = read_rows(r.recording, sink);
      },
      q.rate_hz);
  if (q.road && job) add_road(q, *job, r);
  if (q.damage) add_damage(q, r);
  return r;
}

}  // namespace seamwright::files
