// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/year_parts.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/cycles/rainflow.h"

namespace seamwright::rating {

namespace {

void add_cycle(SiteCycles& out, double count, double range_mpa) {
  out.counts.push_back(count);
  out.ranges_mpa.push_back(range_mpa);
}

// One cycle between the extreme standing stresses of a trip.
void add_loading(const std::vector<RatedLeg>& legs, Eigen::Index site, SiteCycles& out) {
  double least = std::numeric_limits<double>::infinity(), most = -least;
  for (const RatedLeg& leg : legs) {
    least = std::min(least, leg.standing[site]);
    most = std::max(most, leg.standing[site]);
  }
  add_cycle(out, 1, most - least);
}

// Two kinds of peak come in turn, each as often as half of the train.
void add_train(const RatedTrain& t, Eigen::Index site, SiteCycles& out) {
  if (t.peaks.rows() == 1) return add_cycle(out, 1, std::abs(t.peaks(0, site)));
  const double a = t.peaks(0, site), b = t.peaks(1, site);
  if (a * b < 0) return add_cycle(out, 0.5, std::abs(a - b));
  add_cycle(out, 0.5, std::abs(a));  // both pull the same way: it comes back to rest between them
  add_cycle(out, 0.5, std::abs(b));
}

// From the leg's standing stress to rest on level ground, over the obstacle, and back.
void add_passage(double leg_standing, double rest, std::span<const double> stress, SiteCycles& out) {
  cycles::Rainflow flow(0);
  const auto sink = [&](const cycles::Cycle& c) { add_cycle(out, c.count, c.range()); };
  flow.push(std::span<const double>(&leg_standing, 1), sink);
  flow.push(std::span<const double>(&rest, 1), sink);
  flow.push(stress, sink);
  flow.finish(cycles::Residue::repeated, sink);
}

Eigen::Matrix4Xd moments_at(const loads::MomentMatrices& m, const Eigen::Ref<const Eigen::MatrixXd>& rows) {
  Eigen::Matrix4Xd all(4, rows.cols());
  Eigen::Index order = 0;
  for (const Eigen::MatrixXd* matrix : {&m.m0, &m.m1, &m.m2, &m.m4})
    all.row(order++) = rows.cwiseProduct(*matrix * rows).colwise().sum();
  return all;
}

}  // namespace

std::vector<YearPart> year_parts(const Service& service) {
  std::vector<YearPart> parts;
  for (std::size_t t = 0; t < service.trips.size(); ++t) {
    const std::vector<RatedLeg>& trip = service.trips[t];
    const double trips = service.duty.trips[t].trips_per_year;
    parts.push_back({{"", "loading"}, trips, &trip});
    for (const RatedLeg& leg : trip) {
      const std::string& id = leg.leg->id;
      parts.push_back({{id, "road"}, trips, nullptr, &leg});
      for (const RatedTrain& train : leg.trains)
        parts.push_back({{id, train.train.source}, trips * train.train.count, nullptr, &leg, &train});
      for (const auto& p : leg.passages)
        parts.push_back({{id, p->source}, trips * p->count, nullptr, &leg, nullptr, p.get()});
    }
  }
  return parts;
}

PartCycles::PartCycles(const YearPart& part, Eigen::Index first, Eigen::Index last) : part_(part), first_(first) {
  if (part.is_road()) moments_ = moments_at(part.leg->answer->moments, part.leg->state->rows.middleCols(first, last - first));
  if (!part.passage) return;
  const RatedState& state = *part.passage->state;
  stress_.noalias() = part.passage->ride->coordinates.transpose() * state.rows.middleCols(first, last - first);
  stress_.rowwise() += state.standing.segment(first, last - first).transpose();
}

cycles::Moments PartCycles::moments(Eigen::Index site) const {
  const Eigen::Vector4d m = moments_.col(site - first_);
  return {m[0], m[1], m[2], m[3]};
}

void PartCycles::count(Eigen::Index site, SiteCycles& out) const {
  out.ranges_mpa.clear();
  out.counts.clear();
  if (part_.trip) return add_loading(*part_.trip, site, out);
  if (part_.train) return add_train(*part_.train, site, out);
  const auto stress = stress_.col(site - first_);
  add_passage(part_.leg->standing[site], part_.passage->state->standing[site],
              {stress.data(), static_cast<std::size_t>(stress.size())}, out);
}

}  // namespace seamwright::rating
