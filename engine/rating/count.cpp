// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/count.h"

#include <algorithm>
#include <cmath>
#include <exception>
#include <limits>
#include <memory>
#include <thread>

#include "engine/cycles/rainflow.h"
#include "engine/cycles/spectral.h"

namespace seamwright::rating {

namespace {

constexpr Eigen::Index block = 2048;
constexpr Eigen::Index group = 128;  // sites whose histories are held at once: 2 MB

struct Counter {
  cycles::Rainflow flow;
  fatigue::DamageLaw law, bare;
  double factored = 0, unfactored = 0, largest = 0;
  void add(const cycles::Cycle& cycle) {
    const double range = cycle.range();
    factored += cycle.count * law.damage(range);
    unfactored += cycle.count * bare.damage(range);
    largest = std::max(largest, range);
  }
};

// Feeds one leg to the sites first..last; standing stress before and after marks loading and unloading.
void feed(std::vector<std::unique_ptr<Counter>>& counters, const RatedState& state,
          const Eigen::MatrixXd& coordinates, const Eigen::MatrixXd& slow, Eigen::Index first,
          Eigen::Index last) {
  for (Eigen::Index at = first; at < last; at += group) {
    const Eigen::Index width = std::min(group, last - at);
    for (Eigen::Index begin = 0; begin < coordinates.cols(); begin += block) {
      const Eigen::Index length = std::min(block, coordinates.cols() - begin);
      Eigen::MatrixXd stress =
          coordinates.middleCols(begin, length).transpose() * state.rows.middleCols(at, width);
      stress.noalias() += slow.middleCols(begin, length).transpose() * state.slow_rows.middleCols(at, width);
      stress.rowwise() += state.standing.segment(at, width).transpose();
      for (Eigen::Index k = 0; k < width; ++k) {
        Counter* counter = counters[static_cast<std::size_t>(at + k)].get();
        if (!counter) continue;
        const auto sink = [counter](const cycles::Cycle& c) { counter->add(c); };
        if (begin == 0) counter->flow.push(std::span<const double>(&state.standing(at + k), 1), sink);
        counter->flow.push(std::span<const double>(stress.col(k).data(), static_cast<std::size_t>(length)),
                           sink);
      }
    }
  }
}

// The sites are split over the threads; each site is counted by one thread, so the result does not depend on
// their number.
void feed_all(std::vector<std::unique_ptr<Counter>>& counters, const RatedState& state,
              const Eigen::MatrixXd& coordinates, const Eigen::MatrixXd& slow) {
  const Eigen::Index sites = static_cast<Eigen::Index>(counters.size());
  const Eigen::Index threads = std::clamp<Eigen::Index>(std::thread::hardware_concurrency(), 1, 16);
  std::vector<std::exception_ptr> failed(static_cast<std::size_t>(threads));
  {
    std::vector<std::jthread> workers;
    for (Eigen::Index t = 0; t < threads; ++t)
      workers.emplace_back([&, t] {
        try {
          feed(counters, state, coordinates, slow, sites * t / threads, sites * (t + 1) / threads);
        } catch (...) {
          failed[static_cast<std::size_t>(t)] = std::current_exception();
        }
      });
  }
  for (const auto& e : failed)
    if (e) std::rethrow_exception(e);
}

}  // namespace

const loads::Road& road_of(const loads::Duty& duty, const loads::Leg& leg) {
  for (const loads::Road& road : duty.roads)
    if (road.id == leg.road) return road;
  throw Fault{Message{"rating.unknown-road", {text("road", leg.road), text("leg", leg.id)}}};
}

TripDamage count_trip(const loads::Duty& duty, const std::map<double, RatedState>& states,
                      const std::vector<Site>& sites, const std::vector<double>& factors,
                      const std::string& seed, const Progress& progress, double progress_from,
                      double progress_to) {
  std::vector<std::unique_ptr<Counter>> counters;
  for (std::size_t i = 0; i < sites.size(); ++i)
    counters.push_back(sites[i].curve
                           ? std::make_unique<Counter>(
                                 Counter{cycles::Rainflow(0), fatigue::DamageLaw(*sites[i].curve, factors[i]),
                                         fatigue::DamageLaw(*sites[i].curve)})
                           : nullptr);
  const auto& legs = duty.trip.legs;
  for (std::size_t i = 0; i < legs.size(); ++i) {
    if (progress.stop.stop_requested()) throw Stopped{};
    const RatedState& state = states.at(legs[i].payload_kg);
    const Eigen::MatrixXd coordinates =
        loads::leg_coordinates(state.state, state.transfer, road_of(duty, legs[i]), legs[i],
                               duty.sample_rate_hz, duty.highest_frequency_hz, seed);
    feed_all(counters, state, coordinates,
             loads::manoeuvre_histories(legs[i], duty.sample_rate_hz, coordinates.cols()));
    if (progress.report)
      progress.report(progress_from + (progress_to - progress_from) * static_cast<double>(i + 1) /
                                          static_cast<double>(legs.size()));
  }
  TripDamage out;
  for (auto& counter : counters) {
    if (counter)
      counter->flow.finish(cycles::Residue::repeated, [&](const cycles::Cycle& c) { counter->add(c); });
    out.factored.push_back(counter ? counter->factored : 0);
    out.unfactored.push_back(counter ? counter->unfactored : 0);
    out.largest_range_mpa.push_back(counter ? counter->largest : 0);
  }
  return out;
}

double leg_damage(const loads::Leg& leg, const RatedState& state, const loads::MomentMatrices& moments,
                  const Site& site, Eigen::Index index, double factor) {
  if (!site.curve) return 0;
  const Eigen::VectorXd row = state.rows.col(index);
  const auto moment = [&](const Eigen::MatrixXd& m) { return row.dot(m * row); };
  const cycles::Moments m{moment(moments.m0), moment(moments.m1), moment(moments.m2), moment(moments.m4)};
  const fatigue::DamageLaw law(*site.curve, factor);
  std::vector<double> knees = fatigue::knees_mpa(*site.curve);
  std::reverse(knees.begin(), knees.end());
  for (double& knee : knees) knee /= factor;
  const double seconds = leg.distance_km / leg.speed_kmh * 3600;
  return seconds * cycles::damage_per_s(
                       m, cycles::RangeModel::dirlik, [&](double r) { return law.damage(r); }, knees);
}

namespace {

// Twice the most probable largest peak of a Gaussian stress in the time of the leg, 2 s sqrt(2
// ln(crossings)): Cartwright & Longuet-Higgins, Proc. R. Soc. A 237 (1956) 212 [from memory]. For show; no
// damage rests on it.
double largest_range(const RatedState& state, const loads::MomentMatrices& moments, Eigen::Index site,
                     double seconds) {
  const auto row = state.rows.col(site);
  const double m0 = row.dot(moments.m0 * row), m2 = row.dot(moments.m2 * row);
  if (!(m0 > 0 && m2 > 0)) return 0;
  return 2 * std::sqrt(2 * m0 * std::log(std::max(1.0, seconds * std::sqrt(m2 / m0))));
}

}  // namespace

TripDamage spectral_trip(const loads::Duty& duty, const std::map<double, RatedState>& states,
                         const std::vector<Site>& sites, const std::vector<double>& factors) {
  TripDamage out;
  out.factored.assign(sites.size(), 0);
  out.unfactored.assign(sites.size(), 0);
  out.largest_range_mpa.assign(sites.size(), 0);
  const auto add_cycles = [&](std::size_t site, double count, double range) {
    if (!sites[site].curve || count <= 0) return;
    out.factored[site] += count * fatigue::DamageLaw(*sites[site].curve, factors[site]).damage(range);
    out.unfactored[site] += count * fatigue::DamageLaw(*sites[site].curve).damage(range);
    out.largest_range_mpa[site] = std::max(out.largest_range_mpa[site], range);
  };
  for (std::size_t i = 0; i < sites.size(); ++i) {
    double least = std::numeric_limits<double>::infinity(), most = -least;
    for (const loads::Leg& leg : duty.trip.legs) {
      const double stress = states.at(leg.payload_kg).standing[static_cast<Eigen::Index>(i)];
      least = std::min(least, stress);
      most = std::max(most, stress);
    }
    add_cycles(i, 1, most - least);
  }
  for (const loads::Leg& leg : duty.trip.legs) {
    const RatedState& state = states.at(leg.payload_kg);
    const loads::ManoeuvreCounts n = loads::manoeuvre_counts(leg);
    for (std::size_t i = 0; i < sites.size(); ++i) {
      const Eigen::Vector4d unit = state.slow_rows.col(static_cast<Eigen::Index>(i));
      add_cycles(i, n.corners / 2, 2 * leg.corner_m_s2 * std::abs(unit[0]));
      add_cycles(i, n.stops, leg.braking_m_s2 * std::abs(unit[1]));
      const double left = leg.pedal_force_n * unit[2], right = leg.pedal_force_n * unit[3];
      if (left * right < 0) {
        add_cycles(i, n.turns, std::abs(left - right));
      } else {  // both pedals pull the same way: it comes back to rest between them
        add_cycles(i, n.turns, std::abs(left));
        add_cycles(i, n.turns, std::abs(right));
      }
    }
    const auto moments =
        loads::leg_moments(state.state, state.transfer, road_of(duty, leg), leg, duty.highest_frequency_hz);
    const double seconds = leg.distance_km / leg.speed_kmh * 3600;
    for (std::size_t i = 0; i < sites.size(); ++i) {
      const auto index = static_cast<Eigen::Index>(i);
      out.largest_range_mpa[i] =
          std::max(out.largest_range_mpa[i], largest_range(state, moments, index, seconds));
      out.factored[i] += leg_damage(leg, state, moments, sites[i], index, factors[i]);
      out.unfactored[i] += leg_damage(leg, state, moments, sites[i], index, 1);
    }
  }
  return out;
}

}  // namespace seamwright::rating
