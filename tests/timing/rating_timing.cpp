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
#include "engine/rating/parts.h"
#include "engine/rating/rate.h"
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

}  // namespace

int main() {
  machine::keep_freed_memory();
  rating::Job job =
      files::read_job(SEAMWRIGHT_SOURCE_DIR "/catalog/examples/orchard-trike", "", published::catalog());
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
}
