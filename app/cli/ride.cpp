// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>

#include "app/cli/commands.h"
#include "catalog/files/job.h"
#include "catalog/published/nearest.h"
#include "engine/cycles/rainflow.h"
#include "engine/loads/inverse.h"
#include "engine/loads/posed.h"
#include "engine/rating/geometry.h"
#include "engine/signal/resample.h"
#include "engine/signal/welch.h"
#include "reports/content/ride.h"
#include "reports/render/json.h"

namespace seamwright::cli {

namespace {

struct Options {
  std::string file, time, channel, job, duty, node, profile, curve;
  std::vector<std::string> units;
  double rate = 0, speed = 0, payload = -1, from = 0.5, to = 0, km = 0, thickness = 0;
  bool json = false;
};

files::Recording understood(const Options& o) {
  files::RecordingOptions options{o.time, {}};
  for (const std::string& u : o.units) {
    const std::size_t at = u.find('=');
    if (at == std::string::npos) throw CLI::ValidationError(u, "expected channel=unit");
    options.units[u.substr(0, at)] = u.substr(at + 1);
  }
  return files::understand(o.file, options);
}

double factor_to(const files::RecordedChannel& c, const std::string& unit, double youngs_mpa) {
  if (c.unit == unit) return 1;
  if (unit == "m/s2" && c.unit == "g") return 9.80665;
  if (unit == "MPa" && c.unit == "microstrain") return youngs_mpa * 1e-6;
  throw Fault{
      Message{"ride.wrong-unit", {text("channel", c.name), text("unit", c.unit), text("wanted", unit)}}};
}

// The channel on the survey's grid, gaps left out.
std::vector<double> on_grid(const reports::Ride& r, std::size_t channel, double factor) {
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

void add_road(const Options& o, reports::Ride& r) {
  const rating::Job job = files::read_job(o.job, o.duty, published::catalog());
  const std::size_t channel = files::channel_index(r.recording, o.channel);
  const double factor = factor_to(r.recording.channels[channel], "m/s2", 0);
  loads::Pose pose;
  for (const loads::Leg* leg : loads::all_legs(job.duty))
    if (leg->pose.payload_kg >= pose.payload_kg) pose = leg->pose;
  if (o.payload >= 0) pose.payload_kg = o.payload;
  const frame::Frame frame = loads::frame_in(pose, rating::frame_with_cuts(job.design), job.design.carriers,
                                             job.duty.rider, job.design.steering);
  const loads::State state = loads::make_state(frame, pose.payload_kg, job.duty.highest_frequency_hz);
  const loads::Transfer transfer(state, job.duty.structural_damping);
  const loads::Band band{o.from,
                         o.to > 0 ? o.to : std::min(0.4 * r.survey.rate_hz, job.duty.highest_frequency_hz)};
  const signal::ChannelSurvey& s = r.survey.channels[channel];
  const double rms = factor * signal::band_rms(s.frequency_hz, s.density, band.from_hz, band.to_hz);
  reports::RideRoad road{o.channel, o.node, "", o.speed, rms, 0, band.from_hz, band.to_hz};
  road.gd_n0_m3 = loads::equivalent_roughness_m3(state, transfer, o.node, o.speed / 3.6, band, rms);
  road.road_class = class_of(road.gd_n0_m3);
  r.road = road;
  if (o.profile.empty()) return;
  const std::vector<double> profile = loads::profile_from_acceleration(
      state, transfer, o.node, o.speed / 3.6, r.survey.rate_hz, on_grid(r, channel, factor), band);
  std::string table = fmt::format(
      "# heights in m, every {:.6g} m: from {} at node {}, {:g} km/h, {:g} to {:g} Hz\n"
      "height_m\n",
      o.speed / 3.6 / r.survey.rate_hz, o.channel, o.node, o.speed, band.from_hz, band.to_hz);
  for (const double z : profile) fmt::format_to(std::back_inserter(table), "{:.6g}\n", z);
  write_file(o.profile, table);
  r.profile = o.profile;
}

void add_damage(const Options& o, reports::Ride& r) {
  const auto& curves = published::catalog().data.curves;
  const auto curve =
      std::find_if(curves.begin(), curves.end(), [&](const auto& c) { return c.id == o.curve; });
  if (curve == curves.end()) {
    std::vector<std::string> names;
    for (const auto& c : curves) names.push_back(c.id);
    throw Fault{Message{"ride.unknown-curve",
                        {text("curve", o.curve), text("nearest", published::nearest(o.curve, names))}}};
  }
  const std::size_t channel = files::channel_index(r.recording, o.channel);
  const double factor = factor_to(r.recording.channels[channel], "MPa", 210000);
  const fatigue::DamageLaw law(
      *curve,
      fatigue::thickness_factor(*curve, o.thickness > 0 ? o.thickness : curve->reference_thickness_mm));
  reports::RideDamage d{o.channel, o.curve, 0, 0, 0};
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

int ride(const Options& o, const Session& session) {
  reports::Ride r;
  r.recording = understood(o);
  r.survey = signal::survey(
      r.recording.channels.size(),
      [&](const std::function<void(double, std::span<const double>)>& sink) {
        r.skipped = files::read_rows(r.recording, sink);
      },
      o.rate);
  if (!o.job.empty()) add_road(o, r);
  if (!o.curve.empty()) add_damage(o, r);
  if (o.json)
    print(reports::to_json(r));
  else
    print(reports::ride_document(r), session);
  return reports::ride_checks(r).empty() ? 0 : 1;
}

}  // namespace

void add_ride(CLI::App& app, Session& session) {
  auto o = std::make_shared<Options>();
  CLI::App* command = app.add_subcommand("ride", "A recorded ride: what it says and what it is worth");
  command->add_option("file", o->file, "table of a phone, a logger or an amplifier")->required();
  command->add_option("--time", o->time, "name of the time column");
  command->add_option("--unit", o->units, "channel=unit: m/s2, g, microstrain, MPa, N");
  command->add_option("--rate", o->rate, "Hz to resample to, in place of the mean rate")
      ->check(CLI::Range(0.1, 1e5));
  auto* channel = command->add_option("--channel", o->channel, "the channel that --job or --curve takes");
  auto* job = command->add_option("--job", o->job, "the trike that was ridden: gives the road's class")
                  ->needs(channel);
  command->add_option("--duty", o->duty, "duty file in place of the job's")->needs(job);
  auto* node =
      command->add_option("--node", o->node, "where the acceleration was measured, upwards")->needs(job);
  auto* speed =
      command->add_option("--speed", o->speed, "km/h as ridden")->needs(job)->check(CLI::Range(1.0, 100.0));
  job->needs(node)->needs(speed);
  command->add_option("--payload", o->payload, "kg in the box, in place of the duty's heaviest")
      ->needs(job)
      ->check(CLI::Range(0.0, 1000.0));
  command->add_option("--from", o->from, "Hz, lower end of the band")
      ->check(CLI::Range(0.01, 1000.0))
      ->capture_default_str();
  command->add_option("--to", o->to, "Hz, upper end; else 0.4 of the rate or the duty's highest frequency")
      ->check(CLI::Range(0.01, 1000.0));
  command->add_option("--profile", o->profile, "also write the road's profile, for a [[road]] of a duty")
      ->needs(job);
  auto* curve =
      command->add_option("--curve", o->curve, "S-N curve for a recorded stress at a site")->needs(channel);
  command->add_option("--thickness", o->thickness, "mm, of the wall at the site")
      ->needs(curve)
      ->check(CLI::Range(0.1, 100.0));
  command->add_option("--km", o->km, "distance of the recording: gives the life")
      ->needs(curve)
      ->check(CLI::Range(0.001, 1e6));
  command->add_flag("--json", o->json, "one JSON document on stdout");
  command->callback([o, &session] {
    session.run = [o, &session] {
      return o->job.empty() ? ride(*o, session) : on_job(o->job, [&] { return ride(*o, session); });
    };
  });
}

}  // namespace seamwright::cli
