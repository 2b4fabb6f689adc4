// SPDX-License-Identifier: GPL-3.0-or-later
#include <memory>

#include "app/cli/commands.h"
#include "catalog/files/job_reader.h"
#include "catalog/files/recorded_ride.h"
#include "catalog/files/source.h"
#include "catalog/published/published_data.h"
#include "reports/content/measured_blocks.h"
#include "reports/content/ride_blocks.h"
#include "reports/render/json.h"

namespace seamwright::cli {

namespace {

struct RideOptions {
  std::string job, duty;
  std::vector<std::string> units;
  std::string profile;
  files::RideQuestion ask;
  measured::RiddenAt road;
  files::RideQuestion::Damage damage;
  bool json = false;
};

int ride(RideOptions& o, const Session& session) {
  for (const std::string& u : o.units) {
    const std::size_t at = u.find('=');
    if (at == std::string::npos) throw usage_fault("usage.channel-unit", {text("found", u)});
    o.ask.reading.units[u.substr(0, at)] = u.substr(at + 1);
  }
  std::optional<rating::Job> job;
  if (!o.job.empty()) {
    job = files::read_job(o.job, o.duty, published::catalog());
    o.ask.road = o.road;
    o.ask.profile = o.profile;
  }
  if (!o.damage.curve.empty()) o.ask.damage = o.damage;
  const files::Ride ride = files::work_through(o.ask, job ? &*job : nullptr);
  if (!ride.profile.empty()) files::write_text(ride.profile, ride.heights);
  if (o.json)
    print(reports::to_json(ride));
  else
    print(reports::ride_document(ride), session);
  return reports::ride_checks(ride).empty() ? 0 : 1;
}

}  // namespace

void add_ride(CLI::App& app, Session& session) {
  auto o = std::make_shared<RideOptions>();
  CLI::App* command = app.add_subcommand("ride", "Evaluate a recorded ride and the quality of its data");
  command->add_option("file", o->ask.file, "table from a phone, a data logger or an amplifier")->required();
  command->add_option("--time", o->ask.reading.time, "name of the time column");
  command->add_option("--unit", o->units, "channel=unit: m/s2, g, microstrain, MPa, N");
  command->add_option("--rate", o->ask.rate_hz, "rate for resampling in place of the mean rate, Hz")
      ->check(CLI::Range(0.1, 1e5));
  auto* channel = command->add_option("--channel", o->ask.channel, "channel that --job or --curve uses");
  auto* job = command->add_option("--job", o->job, "job of the trike that was ridden; gives the class of the road")
                  ->needs(channel);
  command->add_option("--duty", o->duty, "duty file in place of the job's")->needs(job);
  auto* node =
      command->add_option("--node", o->road.node, "node where the upward acceleration was measured")->needs(job);
  auto* speed = command->add_option("--speed", o->road.speed_kmh, "speed of the ride, km/h")
                    ->needs(job)
                    ->check(CLI::Range(1.0, 100.0));
  job->needs(node)->needs(speed);
  command->add_option("--payload", o->road.payload_kg, "payload in the box in place of the duty's heaviest, kg")
      ->needs(job)
      ->check(CLI::Range(0.0, 1000.0));
  command->add_option("--from", o->road.from_hz, "lower end of the band, Hz")
      ->check(CLI::Range(0.01, 1000.0))
      ->capture_default_str();
  command
      ->add_option("--to", o->road.to_hz,
                   "upper end of the band, Hz; otherwise 0.4 of the rate or the duty's highest frequency")
      ->check(CLI::Range(0.01, 1000.0));
  command->add_option("--profile", o->profile, "also write the road profile, for a [[road]] of a duty")
      ->needs(job);
  auto* curve = command->add_option("--curve", o->damage.curve, "S-N curve for a recorded stress at a site")
                    ->needs(channel);
  command->add_option("--thickness", o->damage.thickness_mm, "wall thickness at the site, mm")
      ->needs(curve)
      ->check(CLI::Range(0.1, 100.0));
  command->add_option("--km", o->damage.km, "distance of the recording; gives the life")
      ->needs(curve)
      ->check(CLI::Range(0.001, 1e6));
  command->add_flag("--json", o->json, "one JSON document on stdout");
  command->callback([o, &session] {
    session.run = [o, &session] {
      return o->job.empty() ? ride(*o, session) : on_job(o->job, o->duty, [&] { return ride(*o, session); });
    };
  });
}

}  // namespace seamwright::cli
