// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/trip_count.h"

#include <algorithm>
#include <limits>
#include <memory>

#include "engine/cycles/rainflow.h"
#include "engine/threads/parallel.h"

namespace seamwright::rating {

namespace {

constexpr Eigen::Index block = 2048;
constexpr Eigen::Index sites_together = 128;  // sites whose histories are held at once: 2 MB

struct Counter {
  cycles::Rainflow flow;
  fatigue::DamageLaw law, bare;
  rules::EffectiveRange mean = nullptr;
  RangeBins ranges{};
  double factored = 0, unfactored = 0, largest = 0;
  void add(const cycles::Cycle& cycle) {
    const double range =
        mean ? mean(std::min(cycle.from, cycle.to), std::max(cycle.from, cycle.to)) : cycle.range();
    const double damage = cycle.count * law.damage(range);
    factored += damage;
    ranges.add(range, cycle.count, damage);
    unfactored += cycle.count * bare.damage(range);
    largest = std::max(largest, range);
  }
};
using Counters = std::vector<std::unique_ptr<Counter>>;

// A stretch of history: coordinates from `begin` to `end`, with slow shapes on top where there are any.
struct Stretch {
  const RatedState* state = nullptr;
  const Eigen::VectorXd* standing = nullptr;
  const Eigen::MatrixXd* coordinates = nullptr;
  Eigen::Index begin = 0, end = 0;
  const Eigen::MatrixXd *shapes = nullptr, *peaks = nullptr;
};

void count_stretch(Counters& counters, const Stretch& s, Eigen::Index at, Eigen::Index width) {
  const auto rows = s.state->rows.middleCols(at, width);
  for (Eigen::Index begin = s.begin; begin < s.end; begin += block) {
    const Eigen::Index length = std::min(block, s.end - begin);
    Eigen::MatrixXd stress = s.coordinates->middleCols(begin, length).transpose() * rows;
    if (s.shapes && s.shapes->rows() > 0)
      stress.noalias() += s.shapes->middleCols(begin, length).transpose() * s.peaks->middleCols(at, width);
    stress.rowwise() += s.standing->segment(at, width).transpose();
    for (Eigen::Index k = 0; k < width; ++k) {
      Counter* counter = counters[static_cast<std::size_t>(at + k)].get();
      if (!counter) continue;
      const auto sink = [counter](const cycles::Cycle& c) { counter->add(c); };
      if (begin == s.begin) counter->flow.push(std::span<const double>(&(*s.standing)[at + k], 1), sink);
      counter->flow.push(std::span<const double>(stress.col(k).data(), static_cast<std::size_t>(length)),
                         sink);
    }
  }
}

void count_stretches(Counters& counters, const std::vector<Stretch>& stretches) {
  threads::over_sites(static_cast<Eigen::Index>(counters.size()), [&](Eigen::Index first, Eigen::Index last) {
    for (Eigen::Index at = first; at < last; at += sites_together)
      for (const Stretch& s : stretches) count_stretch(counters, s, at, std::min(sites_together, last - at));
  });
}

// Obstacles stand evenly along the leg, each kind by itself.
std::vector<Stretch> split(const RatedLeg& leg, const Stretch& whole) {
  std::vector<std::pair<double, const RatedPassage*>> places;
  for (const auto& p : leg.passages)
    for (double k = 0.5; k < p->count; ++k) places.emplace_back(k / p->count, p.get());
  std::stable_sort(places.begin(), places.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<Stretch> stretches{whole};
  for (const auto& [share, passage] : places) {
    const auto at = static_cast<Eigen::Index>(share * static_cast<double>(whole.end));
    Stretch rest = stretches.back();
    stretches.back().end = at;
    rest.begin = at;
    stretches.push_back({passage->state, &passage->state->standing, &passage->ride.coordinates, 0,
                         passage->ride.coordinates.cols(), nullptr, nullptr});
    stretches.push_back(rest);
  }
  std::erase_if(stretches, [](const Stretch& s) { return s.begin == s.end; });
  return stretches;
}

// The leg's dynamic coordinates, and the share of time that its worst wheel is off the ground where the ride
// goes in steps.
Eigen::MatrixXd coordinates_of(const Service& service, const RatedLeg& leg, const std::string& seed,
                               double& lift) {
  const loads::Duty& duty = service.duty;
  if (!leg.leaves_ground)
    return loads::leg_coordinates(leg.state->state, leg.state->transfer, *leg.road, *leg.leg,
                                  duty.sample_rate_hz, duty.highest_frequency_hz, seed);
  const Eigen::Index samples = loads::leg_samples(*leg.leg, duty.sample_rate_hz);
  const loads::Ground ground = loads::road_ground(
      *leg.road, leg.state->state.tracks, leg.leg->speed_kmh / 3.6, duty.highest_frequency_hz,
      static_cast<double>(ride_steps) * duty.sample_rate_hz, ride_steps * samples, seed + "/" + leg.leg->id);
  loads::Ride ride = loads::ride(leg.state->state, duty.structural_damping, ground, ride_steps);
  lift = ride.lift_share.maxCoeff();
  return std::move(ride.coordinates);
}

void count_leg(const Service& service, const RatedLeg& leg, const std::string& seed, Counters& counters,
               double& lift) {
  const Eigen::MatrixXd coordinates = coordinates_of(service, leg, seed, lift);
  Eigen::Index kinds = 0;
  for (const RatedTrain& t : leg.trains) kinds += t.peaks.rows();
  Eigen::MatrixXd shapes(kinds, coordinates.cols()),
      peaks(kinds, static_cast<Eigen::Index>(service.sites.size()));
  Eigen::Index first = 0;
  for (const RatedTrain& t : leg.trains) {
    shapes.middleRows(first, t.peaks.rows()) =
        loads::pulse_shapes(t.train, t.peaks.rows(), service.duty.sample_rate_hz, coordinates.cols());
    peaks.middleRows(first, t.peaks.rows()) = t.peaks;
    first += t.peaks.rows();
  }
  count_stretches(
      counters, split(leg, {leg.state, &leg.standing, &coordinates, 0, coordinates.cols(), &shapes, &peaks}));
}

}  // namespace

TripDamage count_trip(const Service& service, std::size_t trip, const std::string& seed,
                      const Progress& progress, double progress_from, double progress_to) {
  Counters counters;
  for (std::size_t i = 0; i < service.sites.size(); ++i) {
    const fatigue::Curve* curve = service.sites[i].curve;
    counters.push_back(curve ? std::make_unique<Counter>(Counter{
                                   cycles::Rainflow(0), fatigue::DamageLaw(*curve, service.factors[i]),
                                   fatigue::DamageLaw(*curve), service.sites[i].mean})
                             : nullptr);
  }
  TripDamage out;
  const auto& legs = service.trips[trip];
  for (std::size_t i = 0; i < legs.size(); ++i) {
    if (progress.stop.stop_requested()) throw RatingStopped{};
    out.lift_share.push_back(std::numeric_limits<double>::quiet_NaN());
    count_leg(service, legs[i], seed, counters, out.lift_share.back());
    if (progress.report)
      progress.report(progress_from + (progress_to - progress_from) * static_cast<double>(i + 1) /
                                          static_cast<double>(legs.size()));
  }
  for (auto& counter : counters) {
    if (counter)
      counter->flow.finish(cycles::Residue::repeated, [&](const cycles::Cycle& c) { counter->add(c); });
    out.factored.push_back(counter ? counter->factored : 0);
    out.unfactored.push_back(counter ? counter->unfactored : 0);
    out.largest_range_mpa.push_back(counter ? counter->largest : 0);
    out.ranges.push_back(counter ? counter->ranges : RangeBins{});
  }
  return out;
}

}  // namespace seamwright::rating
