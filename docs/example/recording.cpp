// SPDX-License-Identifier: GPL-3.0-or-later
// A recorded ride: a table as a logger writes it is understood, surveyed, brought onto an even grid, and its
// spectrum taken. The table is made here: a sine of 2 m/s2 at 8 Hz, sampled at 100 Hz for a minute.
#include <cmath>
#include <cstdio>
#include <numbers>
#include <string>

#include "catalog/files/recording_reader.h"
#include "catalog/files/source.h"
#include "engine/signal/resample.h"
#include "engine/signal/survey.h"
#include "engine/signal/welch.h"

using namespace seamwright;

int main() {
  std::string table = "time (s),box (m/s2)\n";
  for (int i = 0; i < 6000; ++i) {
    char line[64];
    std::snprintf(line, sizeof line, "%.2f,%.6f\n", 0.01 * i,
                  2 * std::sin(2 * std::numbers::pi * 8 * 0.01 * i));
    table += line;
  }
  const files::FilesInMemory memory({{"ride.csv", table}});
  const files::Recording ride = files::inspect_recording(files::SourceFile(memory, "ride.csv"), {});
  std::printf("%s in %s by %s\n", ride.channels[0].name.c_str(), ride.channels[0].unit.c_str(),
              files::name_of(ride.time_kind));

  const auto rows = [&](const auto& sink) { files::read_rows(ride, sink); };
  const signal::Survey survey = signal::survey(1, rows, 0);
  const signal::ChannelSurvey& box = survey.channels[0];
  std::printf("%zu rows at %.0f Hz, %zu gaps, from %.2f to %.2f, deviation %.3f\n", survey.rows,
              survey.mean_rate_hz, survey.all_gaps, box.least, box.most, box.deviation);

  signal::Welch welch(50, 256);
  signal::Resampler half(1, 50, 1, [&](std::span<const double> values, bool) { welch.push(values[0]); });
  files::read_rows(ride, [&](double time, std::span<const double> values) { half.push(time, values); });
  half.finish();
  Eigen::Index peak = 0;
  welch.density().maxCoeff(&peak);
  std::printf("at 50 Hz: %zu segments, strongest at %.1f Hz, %.2f m/s2 between 6 and 10 Hz\n",
              welch.segments(), welch.frequency_hz()(peak),
              signal::band_rms(welch.frequency_hz(), welch.density(), 6, 10));
}

// Worked out by hand: a sine of amplitude 2 deviates by 2/sqrt 2 = 1.414; 3000 samples at 50 Hz hold
// (3000 - 256) / 128 + 1 = 22 whole segments that overlap by half.
// Prints:
// box (m/s2) in m/s2 by seconds
// 6000 rows at 100 Hz, 0 gaps, from -2.00 to 2.00, deviation 1.414
// at 50 Hz: 22 segments, strongest at 8.0 Hz, 1.41 m/s2 between 6 and 10 Hz
