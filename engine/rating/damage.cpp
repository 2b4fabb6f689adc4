// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/damage.h"

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <limits>

#include "engine/rating/trip_count.h"

namespace seamwright::rating {

namespace {

using Sums = HistoryCounts;

// Half width of the 95 % interval of a site's mean (Student), relative.
double half_width(const Sums& sums, Eigen::Index site) {
  if (sums.count < 2) return std::numeric_limits<double>::quiet_NaN();
  const double n = static_cast<double>(sums.count), mean = sums.factored[site] / n;
  if (!(mean > 0)) return 0;
  const double variance = std::max(0.0, sums.squares[site] / n - mean * mean) * n / (n - 1);
  const boost::math::students_t_distribution<double> t(n - 1);
  return boost::math::quantile(t, 0.975) * std::sqrt(variance / n) / mean;
}

double governing_half_width(const Sums& sums) {
  Eigen::Index site = 0;
  sums.factored.maxCoeff(&site);
  return half_width(sums, site);
}

void add_realisation(const Service& service, const std::string& seed, const Progress& progress, double from,
                     double to, Sums& sums) {
  const auto sites = static_cast<Eigen::Index>(service.sites.size());
  Eigen::ArrayXd year = Eigen::ArrayXd::Zero(sites), bare = year;
  const double kinds = static_cast<double>(service.trips.size());
  for (std::size_t t = 0; t < service.trips.size(); ++t) {
    const double share = static_cast<double>(t) / kinds;
    const TripDamage d = count_trip(service, t, seed, progress, from + (to - from) * share,
                                    from + (to - from) * (share + 1 / kinds));
    const double per_year = service.duty.trips[t].trips_per_year;
    const auto map = [&](const std::vector<double>& v) {
      return Eigen::Map<const Eigen::ArrayXd>(v.data(), sites);
    };
    year += per_year * map(d.factored);
    bare += per_year * map(d.unfactored);
    sums.largest = sums.largest.max(map(d.largest_range_mpa));
    sums.ranges.resize(d.ranges.size());
    for (std::size_t i = 0; i < d.ranges.size(); ++i) sums.ranges[i].add(d.ranges[i], per_year);
    for (std::size_t i = 0; i < d.lift_share.size(); ++i)
      sums.lift[t][i] = std::fmax(sums.lift[t][i], d.lift_share[i]);
  }
  sums.factored += year;
  sums.unfactored += bare;
  sums.squares += year.square();
  ++sums.count;
}

Sums no_sums(const Service& service) {
  const auto sites = static_cast<Eigen::Index>(service.sites.size());
  Sums sums;
  sums.factored = sums.unfactored = sums.squares = sums.largest = Eigen::ArrayXd::Zero(sites);
  for (const auto& trip : service.trips)
    sums.lift.emplace_back(trip.size(), std::numeric_limits<double>::quiet_NaN());
  return sums;
}

// Batches of seeds until the governing damage is known well enough, or there are no more.
Sums counted_damage(const Service& service, const Progress& progress) {
  const loads::Duty& duty = service.duty;
  Sums sums = no_sums(service);
  const auto all = static_cast<double>(duty.seeds.size() * duty.most_batches);
  for (std::size_t batch = 0; batch < duty.most_batches; ++batch) {
    for (const std::string& seed : duty.seeds) {
      const double from = static_cast<double>(sums.count) / all;
      const std::string name = batch == 0 ? seed : seed + "+" + std::to_string(batch);
      add_realisation(service, name, progress, from, from + 1 / all, sums);
    }
    if (governing_half_width(sums) <= duty.confidence) break;
  }
  if (progress.report) progress.report(1);
  return sums;
}

// As before, where the same was counted before.
Sums known_damage(const Service& service, const Progress& progress, CountStore* kept) {
  if (!kept) return counted_damage(service, progress);
  const std::string inputs = inputs_of(service);
  if (const std::optional<std::string> bytes = kept->find(inputs))
    if (std::optional<Sums> known = counts_of(*bytes, service)) {
      if (progress.report) progress.report(1);
      return *std::move(known);
    }
  Sums sums = counted_damage(service, progress);
  kept->keep(inputs, bytes_of(sums));
  return sums;
}

Sums in_parts(const Service& service, const Parts& parts) {
  Sums sums = no_sums(service);
  sums.factored = parts.factored.colwise().sum().transpose();
  sums.unfactored = parts.unfactored.colwise().sum().transpose();
  sums.squares = sums.factored.square();
  sums.largest = parts.range_mpa.colwise().maxCoeff().transpose();
  sums.count = 1;
  return sums;
}

// Each load counted alone: how much more damage giving joints do than rigid ones, at least 1 per site; with the set's
// factors and without, since curves bend between them. Where the rigid frame does none the other's is not carried over:
// it has no measure.
struct Bracket {
  Eigen::ArrayXd factored, unfactored;
};

Bracket bracket_of(const Job& job, const Service& giving, const Parts& rigid, Memory& memory) {
  const Parts parts = damage_in_parts(giving, job.range_model, memory);
  const auto more = [](const Eigen::MatrixXd& before, const Eigen::MatrixXd& after) -> Eigen::ArrayXd {
    const Eigen::ArrayXd a = before.colwise().sum().transpose(), b = after.colwise().sum().transpose();
    return (a > 0).select((b / a).max(1.0), 1.0);
  };
  return {more(rigid.factored, parts.factored), more(rigid.unfactored, parts.unfactored)};
}

void apply(const Bracket& bracket, Sums& sums, Parts& parts) {
  sums.factored *= bracket.factored;
  sums.unfactored *= bracket.unfactored;
  sums.squares *= bracket.factored.square();
  for (std::size_t i = 0; i < sums.ranges.size(); ++i) {
    RangeBins scaled;
    scaled.add(sums.ranges[i], 1);
    for (RangeBins::Bin& bin : scaled.bins) bin.damage *= bracket.factored[static_cast<Eigen::Index>(i)];
    sums.ranges[i] = scaled;
  }
  parts.factored.array().rowwise() *= bracket.factored.transpose();
  parts.unfactored.array().rowwise() *= bracket.unfactored.transpose();
}

Damage mean_of(const Sums& sums, Parts parts) {
  const double n = static_cast<double>(sums.count);
  Damage d;
  d.parts = std::move(parts);
  d.per_year = sums.factored / n;
  d.per_year_unfactored = sums.unfactored / n;
  d.half_width.resize(sums.factored.size());
  for (Eigen::Index i = 0; i < d.half_width.size(); ++i) d.half_width[i] = half_width(sums, i);
  d.largest_range_mpa = sums.largest;
  for (const RangeBins& counted : sums.ranges) d.ranges.emplace_back().add(counted, 1 / n);
  d.lift_share = sums.lift;
  d.realisations = sums.count;
  d.confidence = governing_half_width(sums);
  return d;
}

// Checks decide nothing: they have each load counted alone in either method.
void fill_checks(const Service& service, Damage& d) {
  for (std::size_t s = 0; s < service.sites.size(); ++s) {
    if (!service.sites[s].aside) continue;
    const auto i = static_cast<Eigen::Index>(s);
    d.per_year[i] = d.parts.factored.col(i).sum();
    d.per_year_unfactored[i] = d.parts.unfactored.col(i).sum();
    d.largest_range_mpa[i] = d.parts.range_mpa.col(i).maxCoeff();
    d.half_width[i] = std::numeric_limits<double>::quiet_NaN();
  }
}

}  // namespace

Damage damage_of(const Job& job, const Service& service, const Service* giving, Method method,
                 const Progress& progress, Memory& memory, CountStore* kept) {
  Parts parts = damage_in_parts(service, job.range_model, memory);
  Sums sums = method == Method::time ? known_damage(service, progress, kept) : in_parts(service, parts);
  Bracket more;
  if (giving) {
    more = bracket_of(job, *giving, parts, memory);
    apply(more, sums, parts);
  }
  Damage damage = mean_of(sums, std::move(parts));
  if (method == Method::time) fill_checks(service, damage);
  damage.giving_over_rigid = std::move(more.unfactored);
  return damage;
}

RangeBins ranges_at(const Job& job, const Service& service, const Damage& damage, std::size_t site) {
  return damage.ranges.empty() ? ranges_in_parts(service, job.range_model, site) : damage.ranges[site];
}

}  // namespace seamwright::rating
