// SPDX-License-Identifier: GPL-3.0-or-later
// Rating of the demonstration by histories: wall time and peak memory over the aims (20 s, 300 MB for an hour
// at 200 Hz on 2 cores), and how time grows with the number of sites and with length. Prints figures; judges
// nothing.
#include <fmt/format.h>
#include <sys/resource.h>

#include <chrono>
#include <cmath>

#include "catalog/files/job_reader.h"
#include "catalog/published/published_data.h"
#include "engine/design/weld_geometry.h"
#include "engine/rating/kept_counts.h"
#include "engine/rating/parts.h"
#include "engine/rating/rate.h"
#include "engine/machine/instructions.h"
#include "engine/machine/parallel.h"
#include "tests/timing/line.h"

namespace {

using namespace seamwright;

constexpr double aim_s = 20, aim_mb = 300;

double seconds_of(const rating::Job& job, rating::Method method) {
  const auto start = std::chrono::steady_clock::now();
  rating::rate(job, published::catalog().data, method, {});
  return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

double ridden_s(const rating::Job& job) {
  double time = 0;
  for (const loads::Leg* leg : loads::all_legs(job.duty)) time += leg->distance_km / leg->speed_kmh * 3600;
  return time;
}

double peak_mb() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) / 1024;
}

// Sites with a curve times samples of one realisation, obstacles left out.
double site_samples(const rating::Job& job) {
  const frame::Frame cut = design::frame_with_cuts(job.design);
  double sites = 0, samples = 0;
  for (const sites::Site& s : rating::sites_of(job, cut, published::catalog().data)) sites += s.curve ? 1 : 0;
  for (const loads::Leg* leg : loads::all_legs(job.duty))
    samples += static_cast<double>(loads::leg_samples(*leg, job.duty.sample_rate_hz));
  return sites * samples * static_cast<double>(job.duty.seeds.size());
}

double processor_s() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  const auto seconds = [](const timeval& t) { return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec); };
  return seconds(usage.ru_utime) + seconds(usage.ru_stime);
}

// This store holds the last counts.
struct InMemory : rating::CountStore {
  std::string inputs, bytes;
  std::optional<std::string> find(std::string_view asked) override {
    return asked == inputs ? std::optional(bytes) : std::nullopt;
  }
  void keep(std::string_view from, std::string_view counted) override {
    inputs = from;
    bytes = counted;
  }
};

// The demonstration as it is, then once more from what was kept.
void report_demonstration(const rating::Job& job) {
  InMemory kept;
  const auto rate = [&] { rating::rate(job, published::catalog().data, rating::Method::time, {}, {}, {&kept}); };
  const double begin = processor_s();
  rate();
  const double counted = processor_s() - begin;
  rate();
  const double again = processor_s() - begin - counted;
  timing::aim("three seeds of the demonstration, processor", counted, "s", 6);
  timing::aim("a site and sample, processor, all included", 1e9 * counted / site_samples(job), "ns",
              machine::best_instructions() == machine::Instructions::v3 ? 1.6 : 4);
  timing::aim("rated again, processor", again, "s", 1);
}

// Twenty hours in one leg, few sites: memory beyond what the program has by then.
void report_long_ride(rating::Job job) {
  job.design.welds.resize(1);
  job.design.notches.clear();
  job.design.bolts.clear();
  job.duty.trips[0].legs.resize(1);
  loads::Leg& leg = job.duty.trips[0].legs[0];
  leg.distance_km = 20 * leg.speed_kmh;
  const double before = peak_mb();
  seconds_of(job, rating::Method::time);
  timing::aim("20 h of riding, memory beyond an hour's", peak_mb() - before, "MB", 200);
}

}  // namespace

int main() {
  machine::keep_freed_memory();
  rating::Job job =
      files::read_job(SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike", "", published::catalog());
  report_demonstration(job);
  job.duty.seeds = {"timing"};
  job.duty.most_batches = 1;
  const double stretch = 3600 / ridden_s(job);
  for (loads::Leg& leg : job.duty.trips[0].legs) leg.distance_km *= stretch;
  const double spectral = seconds_of(job, rating::Method::spectral),
               hour = seconds_of(job, rating::Method::time);
  fmt::print("rating: {} welds, one trip of an hour at {} Hz\n", job.design.welds.size(),
             job.duty.sample_rate_hz);
  timing::aim("histories", hour, "s", aim_s);
  timing::aim("memory", peak_mb(), "MB", aim_mb);
  timing::beside("spectral", spectral, "s", spectral / hour, "of histories");

  // A slider redraws this once the frame in its poses is solved: the parts of the damage at every site.
  const frame::Frame cut = design::frame_with_cuts(job.design);
  const rating::Service service =
      rating::prepare(job, cut, rating::sites_of(job, cut, published::catalog().data), 1.5);
  const auto start = std::chrono::steady_clock::now();
  rating::damage_in_parts(service, job.range_model);
  const double parts = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  timing::aim("spectral, once the frame is solved", 1e3 * parts, "ms", 100);

  rating::Job fewer = job;
  fewer.design.welds.resize(job.design.welds.size() / 4);
  const double quarter = seconds_of(fewer, rating::Method::time);
  timing::beside("a quarter of the welds", quarter, "s", std::log(hour / quarter) / std::log(4.0),
                 "exponent against sites");
  rating::Job longer = job;
  for (loads::Leg& leg : longer.duty.trips[0].legs) leg.distance_km *= 2;
  const double twice = seconds_of(longer, rating::Method::time);
  timing::beside("two hours", twice, "s", std::log2(twice / hour), "exponent against length");
  report_long_ride(job);
}
