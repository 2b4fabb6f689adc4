// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/studies/ride_study.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "catalog/published/nearest.h"
#include "catalog/published/published_data.h"
#include "engine/cycles/rainflow.h"
#include "engine/design/weld_geometry.h"
#include "engine/evidence/constants.h"
#include "engine/loads/inverse.h"
#include "engine/loads/posed.h"
#include "engine/signal/resample.h"
#include "engine/signal/welch.h"

namespace seamwright::reports {

namespace {

double factor_to(const files::RecordedChannel& c, const std::string& unit, double youngs_mpa) {
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
  files::read_rows(r.recording, [&](double t, std::span<const double> v) {
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

// The road of the recorded acceleration; its profile as a table where one is asked for.
std::string add_road(const RideQuestion& q, const rating::Job& job, Ride& r) {
  const RideQuestion::Road& o = *q.road;
  const std::size_t channel = files::channel_index(r.recording, q.channel);
  const double factor = factor_to(r.recording.channels[channel], "m/s2", 0);
  loads::Pose pose;
  for (const loads::Leg* leg : loads::all_legs(job.duty))
    if (leg->pose.payload_kg >= pose.payload_kg) pose = leg->pose;
  if (o.payload_kg >= 0) pose.payload_kg = o.payload_kg;
  const frame::Frame frame = loads::frame_in(pose, design::frame_with_cuts(job.design), job.design.carriers,
                                             job.duty.rider, job.design.steering);
  const loads::State state = loads::make_state(frame, pose.payload_kg, job.duty.highest_frequency_hz);
  const loads::Transfer transfer(state, job.duty.structural_damping);
  const loads::Band band{
      o.from_hz, o.to_hz > 0 ? o.to_hz : std::min(0.4 * r.survey.rate_hz, job.duty.highest_frequency_hz)};
  const signal::ChannelSurvey& s = r.survey.channels[channel];
  const double rms = factor * signal::band_rms(s.frequency_hz, s.density, band.from_hz, band.to_hz);
  RideRoad road{q.channel, o.node, "", o.speed_kmh, rms, 0, band.from_hz, band.to_hz};
  road.gd_n0_m3 = loads::equivalent_roughness_m3(state, transfer, o.node, o.speed_kmh / 3.6, band, rms);
  road.road_class = class_of(road.gd_n0_m3);
  r.road = road;
  if (o.profile.empty()) return {};
  const std::vector<double> profile = loads::profile_from_acceleration(
      state, transfer, o.node, o.speed_kmh / 3.6, r.survey.rate_hz, on_grid(r, channel, factor), band);
  std::string table = fmt::format(
      "# heights in m, every {:.6g} m: from {} at node {}, {:g} km/h, {:g} to {:g} Hz\n"
      "height_m\n",
      o.speed_kmh / 3.6 / r.survey.rate_hz, q.channel, o.node, o.speed_kmh, band.from_hz, band.to_hz);
  for (const double z : profile) fmt::format_to(std::back_inserter(table), "{:.6g}\n", z);
  r.profile = o.profile;
  return table;
}

void add_damage(const RideQuestion& q, Ride& r) {
  const RideQuestion::Damage& o = *q.damage;
  const auto& curves = published::catalog().data.curves;
  const auto curve =
      std::find_if(curves.begin(), curves.end(), [&](const auto& c) { return c.id == o.curve; });
  if (curve == curves.end()) {
    std::vector<std::string> names;
    for (const auto& c : curves) names.push_back(c.id);
    throw Fault{Message{"ride.unknown-curve",
                        {text("curve", o.curve), text("nearest", published::nearest(o.curve, names))}}};
  }
  const std::size_t channel = files::channel_index(r.recording, q.channel);
  const double factor = factor_to(r.recording.channels[channel], "MPa", 210000);
  const fatigue::DamageLaw law(
      *curve,
      fatigue::thickness_factor(*curve, o.thickness_mm > 0 ? o.thickness_mm : curve->reference_thickness_mm));
  RideDamage d{q.channel, o.curve, 0, 0, 0};
  cycles::Rainflow flow;
  const auto sink = [&](const cycles::Cycle& c) {
    d.damage += c.count * law.damage(c.range());
    d.largest_mpa = std::max(d.largest_mpa, c.range());
  };
  const std::vector<double> values = on_grid(r, channel, factor);
  flow.push(values, sink);
  flow.finish(cycles::Residue::repeated, sink);
  if (o.km > 0 && d.damage > 0) d.life_km = o.km / d.damage;
  r.damage = d;
}

}  // namespace

RideAnswer ridden(const RideQuestion& q, const rating::Job* job) {
  RideAnswer a;
  Ride& r = a.ride;
  r.recording = files::understand(q.file, q.reading);
  r.survey = signal::survey(
      r.recording.channels.size(),
      [&](const std::function<void(double, std::span<const double>)>& sink) {
        r.skipped = files::read_rows(r.recording, sink);
      },
      q.rate_hz);
  if (q.road && job) a.profile = add_road(q, *job, r);
  if (q.damage) add_damage(q, r);
  return a;
}

}  // namespace seamwright::reports
