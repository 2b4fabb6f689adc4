// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/trip_count.h"

#include <algorithm>
#include <limits>
#include <map>

#include "engine/rating/weld_counter.h"
#include "engine/machine/parallel.h"

namespace seamwright::rating {

namespace {

// A stretch of history: coordinates from `begin` to `end`, with slow shapes on top where there are any; and how
// each weld's sites follow from them.
struct Stretch {
  const std::vector<WeldRows>* rows = nullptr;
  const Eigen::MatrixXd* coordinates = nullptr;
  Eigen::Index begin = 0, end = 0;
  const Eigen::MatrixXd* shapes = nullptr;
};

// The welds from `first` to `last` share each block while it is at hand.
void count_stretch(std::vector<WeldCounter>& counters, std::size_t first, std::size_t last, const Stretch& s,
                   Block& block) {
  constexpr auto most = static_cast<Eigen::Index>(Block::most_samples);
  for (Eigen::Index begin = s.begin; begin < s.end; begin += most) {
    block.fill(s.coordinates->middleCols(begin, std::min(most, s.end - begin)), s.shapes, begin, begin == s.begin);
    for (std::size_t w = first; w < last; ++w) counters[w].count((*s.rows)[w], block);
  }
}

void count_stretches(std::vector<WeldCounter>& counters, const std::vector<Stretch>& stretches) {
  machine::over_sites(static_cast<Eigen::Index>(counters.size()), [&](Eigen::Index first, Eigen::Index last) {
    Block block;
    for (const Stretch& s : stretches)
      count_stretch(counters, static_cast<std::size_t>(first), static_cast<std::size_t>(last), s, block);
  });
}

std::vector<WeldRows> all_rows(const std::vector<WeldCounter>& counters, const Eigen::MatrixXd& rows,
                               const Eigen::MatrixXd& peaks, const Eigen::VectorXd& standing) {
  std::vector<WeldRows> all;
  for (const WeldCounter& c : counters) all.push_back(weld_rows(c.sites(), rows, peaks, standing));
  return all;
}

using PassageRows = std::map<const RatedState*, std::vector<WeldRows>>;

// A part of a leg that is held at once. A leg that is longer is ridden as several, each a realisation of its own,
// so that memory does not grow with its length.
struct Piece {
  loads::Leg leg;
  loads::Road road;
  Eigen::Index first = 0, samples = 0, of = 0;  // of: samples of the whole leg
};
constexpr Eigen::Index longest_piece = Eigen::Index{1} << 17;

Eigen::Index piece_count(const RatedLeg& leg, double sample_rate_hz) {
  return (loads::leg_samples(*leg.leg, sample_rate_hz) + longest_piece - 1) / longest_piece;
}

Piece piece_of(const RatedLeg& leg, double sample_rate_hz, Eigen::Index k) {
  const Eigen::Index of = loads::leg_samples(*leg.leg, sample_rate_hz), count = piece_count(leg, sample_rate_hz);
  Piece p{*leg.leg, *leg.road, of * k / count, 0, of};
  p.samples = of * (k + 1) / count - p.first;
  const double begun = static_cast<double>(p.first) / static_cast<double>(of);
  if (count > 1) p.leg.distance_km *= static_cast<double>(p.samples) / static_cast<double>(of);
  p.road.profile_from_m += 1000 * leg.leg->distance_km * begun;
  if (k > 0) p.leg.id += "+" + std::to_string(k);  // another realisation
  return p;
}

// Obstacles stand evenly along the whole leg, each kind by itself.
std::vector<Stretch> split(const RatedLeg& leg, const Piece& piece, const PassageRows& rows, const Stretch& whole) {
  std::vector<std::pair<Eigen::Index, const RatedPassage*>> places;
  for (const auto& p : leg.passages)
    for (double k = 0.5; k < p->count; ++k) {
      const auto at = static_cast<Eigen::Index>(k / p->count * static_cast<double>(piece.of)) - piece.first;
      if (at >= 0 && at < piece.samples) places.emplace_back(at, p.get());
    }
  std::stable_sort(places.begin(), places.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<Stretch> stretches{whole};
  for (const auto& [at, passage] : places) {
    Stretch rest = stretches.back();
    stretches.back().end = at;
    rest.begin = at;
    stretches.push_back(
        {&rows.at(passage->state), &passage->ride->coordinates, 0, passage->ride->coordinates.cols(), nullptr});
    stretches.push_back(rest);
  }
  std::erase_if(stretches, [](const Stretch& s) { return s.begin == s.end; });
  return stretches;
}

// The dynamic coordinates, and the share of time that the worst wheel is off the ground where the ride goes in
// steps.
Eigen::MatrixXd coordinates_of(const Service& service, const RatedLeg& leg, const Piece& piece,
                               const std::string& seed, double& lift) {
  const loads::Duty& duty = service.duty;
  if (!leg.leaves_ground)
    return loads::leg_coordinates(leg.state->state, leg.state->transfer, piece.road, piece.leg,
                                  duty.sample_rate_hz, duty.highest_frequency_hz, seed);
  const loads::Ground ground = loads::road_ground(
      piece.road, leg.state->state.tracks, piece.leg.speed_kmh / 3.6, duty.highest_frequency_hz,
      static_cast<double>(ride_steps) * duty.sample_rate_hz, ride_steps * piece.samples, seed + "/" + piece.leg.id);
  loads::Ride ride = loads::ride(leg.state->state, leg.state->transfer, duty.structural_damping, ground, ride_steps);
  lift = ride.lift_share.maxCoeff();
  return std::move(ride.coordinates);
}

// Peaks of all manoeuvres of a leg, one after the other: kinds x sites.
Eigen::MatrixXd peaks_of(const RatedLeg& leg, std::size_t sites) {
  Eigen::Index kinds = 0;
  for (const RatedTrain& t : leg.trains) kinds += t.peaks.rows();
  Eigen::MatrixXd peaks(kinds, static_cast<Eigen::Index>(sites));
  Eigen::Index first = 0;
  for (const RatedTrain& t : leg.trains) {
    peaks.middleRows(first, t.peaks.rows()) = t.peaks;
    first += t.peaks.rows();
  }
  return peaks;
}

Eigen::MatrixXd shapes_of(const RatedLeg& leg, const Piece& piece, Eigen::Index kinds, double sample_rate_hz) {
  Eigen::MatrixXd shapes(kinds, piece.samples);
  Eigen::Index first = 0;
  for (const RatedTrain& t : leg.trains) {
    shapes.middleRows(first, t.peaks.rows()) =
        loads::pulse_shapes(t.train, t.peaks.rows(), sample_rate_hz, piece.of, piece.first, piece.samples);
    first += t.peaks.rows();
  }
  return shapes;
}

// Counts a leg and gives the share of time that its worst wheel is off the ground, NaN where it stays on it.
double count_leg(const Service& service, const RatedLeg& leg, const std::string& seed,
                 std::vector<WeldCounter>& counters, const Progress& progress) {
  const Eigen::MatrixXd peaks = peaks_of(leg, service.sites.size());
  const std::vector<WeldRows> rows = all_rows(counters, leg.state->rows, peaks, leg.standing);
  PassageRows passages;
  for (const auto& p : leg.passages)
    if (auto& known = passages[p->state]; known.empty())
      known = all_rows(counters, p->state->rows, {}, p->state->standing);
  double lifted = 0;
  const Eigen::Index count = piece_count(leg, service.duty.sample_rate_hz);
  for (Eigen::Index k = 0; k < count; ++k) {
    const Piece piece = piece_of(leg, service.duty.sample_rate_hz, k);
    if (progress.stop.stop_requested()) throw RatingStopped{};
    double lift = std::numeric_limits<double>::quiet_NaN();
    const Eigen::MatrixXd coordinates = coordinates_of(service, leg, piece, seed, lift);
    const Eigen::MatrixXd shapes = shapes_of(leg, piece, peaks.rows(), service.duty.sample_rate_hz);
    count_stretches(counters, split(leg, piece, passages, {&rows, &coordinates, 0, coordinates.cols(), &shapes}));
    const double done = static_cast<double>(piece.first + piece.samples) / static_cast<double>(piece.of);
    lifted += lift * static_cast<double>(piece.samples) / static_cast<double>(piece.of);
    if (progress.report) progress.report(done);
  }
  return lifted;
}

}  // namespace

TripDamage count_trip(const Service& service, std::size_t trip, const std::string& seed,
                      const Progress& progress, double progress_from, double progress_to) {
  std::vector<WeldCounter> counters = weld_counters(service);
  TripDamage out;
  const auto& legs = service.trips[trip];
  const double each = (progress_to - progress_from) / static_cast<double>(legs.size());
  for (std::size_t i = 0; i < legs.size(); ++i) {
    const Progress part{[&](double done) {
                          if (progress.report) progress.report(progress_from + each * (static_cast<double>(i) + done));
                        },
                        progress.stop};
    out.lift_share.push_back(count_leg(service, legs[i], seed, counters, part));
  }
  const std::size_t sites = service.sites.size();
  out.factored.resize(sites);
  out.unfactored.resize(sites);
  out.largest_range_mpa.resize(sites);
  out.ranges.resize(sites);
  Block block;
  for (WeldCounter& counter : counters) {
    const std::vector<SiteCount> counts = counter.finish(block);
    for (std::size_t k = 0; k < counts.size(); ++k) {
      const auto site = static_cast<std::size_t>(counter.sites()[k]);
      out.factored[site] = counts[k].factored;
      out.unfactored[site] = counts[k].unfactored;
      out.largest_range_mpa[site] = counts[k].largest_mpa;
      out.ranges[site] = counts[k].ranges;
    }
  }
  return out;
}

}  // namespace seamwright::rating
