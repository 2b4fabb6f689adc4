// SPDX-License-Identifier: GPL-3.0-or-later
// Assumed inputs of the duty: rider, drive, roads and rules.
#include <algorithm>
#include <array>
#include <cmath>

#include "engine/rating/job.h"
#include "engine/rules/safety.h"
#include "engine/study/assumed.h"

namespace seamwright::study {

namespace {

using rating::Job;

double as_all_are(const Job&) { return 1; }

// One number of the rider.
AssumedInput of_rider(const char* name, const char* unit, const char* key, RangeKind reach, double low,
                      double high, double loads::Rider::*number) {
  return {name,
          unit,
          {std::string("duty.rider.").append(key)},
          reach,
          low,
          high,
          [number](const Job& job) { return job.duty.rider.*number; },
          [number](Job& job, double x) { job.duty.rider.*number = x; }};
}

// A direction in which the rider may sit on a spring: rigid (0) until the duty says otherwise.
AssumedInput of_spring(const char* name, const char* key, double loads::Rider::*frequency,
                       double loads::Rider::*damping) {
  constexpr double usual_damping = 0.4;  // of the demonstration; assumed, where a rigid rider is let go
  return {name,
          "Hz",
          {std::string("duty.rider.").append(key)},
          RangeKind::between,
          1,
          4,
          [frequency](const Job& job) { return job.duty.rider.*frequency; },
          [frequency, damping](Job& job, double x) {
            if (!(job.duty.rider.*frequency > 0)) job.duty.rider.*damping = usual_damping;
            job.duty.rider.*frequency = x;
          }};
}

AssumedInput of_damping(const char* name, const char* key, double loads::Rider::*frequency,
                        double loads::Rider::*damping) {
  return {name,
          "",
          {std::string("duty.rider.").append(key)},
          RangeKind::times,
          0.5,
          1.5,
          [frequency, damping](const Job& job) {
            return job.duty.rider.*frequency > 0 ? job.duty.rider.*damping : no_such_input;
          },
          [damping](Job& job, double x) { job.duty.rider.*damping = x; }};
}

// Shares that sum to 1: the saddle's changes, the others keep their ratio.
void set_saddle_share(Job& job, double x) {
  loads::Rider& r = job.duty.rider;
  const double others = r.pedal_share + r.bar_share, share = std::clamp(x, 0.0, 1.0);
  const double pedals = others > 0 ? r.pedal_share / others : 1;
  r.saddle_share = share;
  r.pedal_share = (1 - share) * pedals;
  r.bar_share = 1 - share - r.pedal_share;
}

void set_bar_share(Job& job, double x) {
  loads::Rider& r = job.duty.rider;
  const double both = r.pedal_share + r.bar_share;
  r.bar_share = std::clamp(x, 0.0, both);
  r.pedal_share = both - r.bar_share;
}

// One number of the drive, where somebody pedals.
AssumedInput of_drive(const char* name, const char* unit, const char* key, RangeKind reach, double low,
                      double high, double loads::Drive::*number) {
  return {name,
          unit,
          {std::string("duty.drive.").append(key)},
          reach,
          low,
          high,
          [number](const Job& job) {
            return job.duty.drive.crank_mm > 0 ? job.duty.drive.*number : no_such_input;
          },
          [number](Job& job, double x) { job.duty.drive.*number = x; }};
}

// A factor on a number of every road that is given by its spectrum.
AssumedInput of_roads(const char* name, std::vector<std::string> keys, double low, double high,
                      double loads::Road::*number, Source range = {"seamwright", "range assumed"}) {
  return {name,
          "",
          std::move(keys),
          RangeKind::times,
          low,
          high,
          [number](const Job& job) {
            const auto& all = job.duty.roads;
            return std::any_of(all.begin(), all.end(),
                               [&](const auto& r) { return r.profile_left_m.empty() && r.*number > 0; })
                       ? 1
                       : no_such_input;
          },
          [number](Job& job, double x) {
            for (loads::Road& road : job.duty.roads)
              if (road.profile_left_m.empty()) road.*number *= x;
          },
          {},
          std::move(range)};
}

AssumedInput coherence() {
  return {"track-coherence",
          "",
          {"duty.road.coherence"},
          RangeKind::words,
          0,
          0,
          [](const Job& job) {
            for (const loads::Road& road : job.duty.roads)
              if (road.profile_left_m.empty()) return static_cast<double>(road.coherence);
            return no_such_input;
          },
          [](Job& job, double x) {
            for (loads::Road& road : job.duty.roads)
              road.coherence = static_cast<loads::Coherence>(std::lround(x));
          },
          {"coherence.isotropic", "coherence.full", "coherence.fitted", "coherence.none"}};
}

AssumedInput environment(const char* name, const char* key, rules::Environment rules::Rules::*where) {
  using rules::Environment;
  return {name,
          "",
          {std::string("duty.rules.").append(key)},
          RangeKind::words,
          0,
          0,
          [where](const Job& job) { return job.rules.*where == Environment::air ? 0.0 : 1.0; },
          [where](Job& job, double x) {
            job.rules.*where = x < 0.5 ? Environment::air : Environment::free_corrosion;
          },
          {"environment.air", "environment.free-corrosion"}};
}

AssumedInput range_model() {
  using enum cycles::RangeModel;
  static constexpr std::array models{tovo_benasciutti, dirlik, wirsching_light, narrow_band};
  return {
      "range-model",
      "",
      {"duty.rules.range_model"},
      RangeKind::words,
      0,
      0,
      [](const Job& job) {
        return static_cast<double>(std::find(models.begin(), models.end(), job.range_model) - models.begin());
      },
      [](Job& job, double x) { job.range_model = models.at(static_cast<std::size_t>(std::lround(x))); },
      {"ranges.tovo-benasciutti", "ranges.dirlik", "ranges.wirsching-light", "ranges.narrow-band"}};
}

}  // namespace

std::vector<AssumedInput> assumed_of_rider() {
  using loads::Rider;
  return {
      of_rider("rider-mass", "kg", "mass_kg", RangeKind::times, 0.8, 1.2, &Rider::mass_kg),
      of_rider("rider-frequency", "Hz", "vertical_frequency_hz", RangeKind::times, 0.8, 1.2,
               &Rider::vertical_frequency_hz),
      of_rider("rider-damping", "", "vertical_damping", RangeKind::times, 0.5, 1.5, &Rider::vertical_damping),
      of_spring("rider-lateral-frequency", "lateral_frequency_hz", &Rider::lateral_frequency_hz,
                &Rider::lateral_damping),
      of_damping("rider-lateral-damping", "lateral_damping", &Rider::lateral_frequency_hz,
                 &Rider::lateral_damping),
      of_spring("rider-fore-aft-frequency", "fore_aft_frequency_hz", &Rider::fore_aft_frequency_hz,
                &Rider::fore_aft_damping),
      of_damping("rider-fore-aft-damping", "fore_aft_damping", &Rider::fore_aft_frequency_hz,
                 &Rider::fore_aft_damping),
      of_rider("rider-height", "mm", "height_above_saddle_mm", RangeKind::times, 0.8, 1.2,
               &Rider::height_above_saddle_mm),
      {"saddle-share",
       "",
       {"duty.rider.saddle_share"},
       RangeKind::plus,
       -0.1,
       0.1,
       [](const Job& job) { return job.duty.rider.saddle_share; },
       set_saddle_share},
      {"bar-share",
       "",
       {"duty.rider.bar_share", "duty.rider.pedal_share"},
       RangeKind::plus,
       -0.05,
       0.1,
       [](const Job& job) { return job.duty.rider.bar_share; },
       set_bar_share},
  };
}

std::vector<AssumedInput> assumed_of_drive() {
  using loads::Drive;
  return {
      of_drive("crank", "mm", "crank_mm", RangeKind::between, 165, 175, &Drive::crank_mm),
      of_drive("pedal-offset", "mm", "pedal_offset_mm", RangeKind::times, 0.9, 1.1, &Drive::pedal_offset_mm),
      of_drive("chainring", "mm", "chainring_radius_mm", RangeKind::times, 0.8, 1.25,
               &Drive::chainring_radius_mm),
      of_drive("sprocket", "mm", "sprocket_radius_mm", RangeKind::times, 0.7, 1.4,
               &Drive::sprocket_radius_mm),
      of_drive("chain-offset", "mm", "chain_offset_mm", RangeKind::times, 0.9, 1.1, &Drive::chain_offset_mm),
      of_drive("bar-pull", "", "bar_pull_share", RangeKind::between, 0, 0.6, &Drive::bar_pull_share)};
}

std::vector<AssumedInput> assumed_of_roads() {
  using loads::Road;
  return {of_roads("road-roughness", {"duty.road.gd_n0_m3"}, 0.5, 2, &Road::gd_n0_m3,
                   {"iso-8608-2016", "half and twice the mean of a class: the bounds of the class"}),
          of_roads("road-waviness", {"duty.road.waviness"}, 0.9, 1.1, &Road::waviness),
          of_roads("road-shortest-waves", {"duty.road.max_cycles_m"}, 0.5, 2, &Road::max_cycles_m),
          of_roads("road-longest-waves", {"duty.road.min_cycles_m"}, 0.5, 2, &Road::min_cycles_m),
          of_roads("setts-height", {"duty.road.pitch_amplitude_mm"}, 0.5, 1.5, &Road::pitch_amplitude_mm),
          of_roads("setts-pitch", {"duty.road.pitch_mm"}, 0.8, 1.25, &Road::pitch_mm),
          coherence()};
}

std::vector<AssumedInput> assumed_of_rules() {
  return {
      {"miner-median",
       "",
       {"duty.rules.miner_median"},
       RangeKind::between,
       0.24,
       1.05,
       [](const Job& job) { return job.rules.miner_median; },
       [](Job& job, double x) { job.rules.miner_median = x; }},
      {"load-bias",
       "",
       {"duty.rules.load_bias"},
       RangeKind::times,
       0.8,
       1.25,
       [](const Job& job) { return job.rules.load_bias; },
       [](Job& job, double x) { job.rules.load_bias = x; }},
      {"chord-fixity",
       "",
       {"duty.rules.chord_fixity"},
       RangeKind::between,
       0.5,
       1,
       [](const Job& job) { return job.rules.chord_fixity; },
       [](Job& job, double x) { job.rules.chord_fixity = x; },
       {},
       {"dnv-rp-c203-2016", "Appendix B, fixity of the chord's ends"}},
      environment("environment-outside", "environment_outside", &rules::Rules::environment_outside),
      environment("environment-inside", "environment_inside", &rules::Rules::environment_inside),
      range_model(),
      {"structural-damping",
       "",
       {"duty.dynamics.structural_damping"},
       RangeKind::times,
       0.5,
       3,
       [](const Job& job) { return job.duty.structural_damping; },
       [](Job& job, double x) { job.duty.structural_damping = x; }},
      // A recalled figure, whichever it is, is out by this: every stress by as much.
      {"recalled-figures",
       "",
       {},
       RangeKind::times,
       0.9,
       1.1,
       as_all_are,
       [](Job& job, double x) { job.rules.load_bias *= x; }},
  };
}

}  // namespace seamwright::study
