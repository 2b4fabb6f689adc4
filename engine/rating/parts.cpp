// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/parts.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "engine/cycles/rainflow.h"
#include "engine/machine/parallel.h"

namespace seamwright::rating {

namespace {

// The damage laws of one site, with and without the stress factor.
struct Laws {
  fatigue::DamageLaw factored, unfactored;
};

// One part's damage at one site goes here.
struct Cell {
  RangeBins* bins = nullptr;  // where the cycles of a year go as well, each counted `weight` times
  double weight = 1;
  double factored = 0, unfactored = 0, largest = 0;
  void add(const Laws& laws, double count, double range) {
    const double damage = count * laws.factored.damage(range);
    factored += damage;
    unfactored += count * laws.unfactored.damage(range);
    if (bins) bins->add(range, weight * count, weight * damage);
    if (count > 0) largest = std::max(largest, range);
  }
};

// Twice the most probable largest peak of a Gaussian stress in the time of the leg, 2 s sqrt(2
// ln(crossings)): Cartwright & Longuet-Higgins, Proc. R. Soc. A 237 (1956) 212 [from memory]. For show; no
// damage rests on it.
double largest_range(const cycles::Moments& m, double seconds) {
  if (!(m.m0 > 0 && m.m2 > 0)) return 0;
  return 2 * std::sqrt(2 * m.m0 * std::log(std::max(1.0, seconds * std::sqrt(m.m2 / m.m0))));
}

Cell train_cell(Cell c, const RatedTrain& t, Eigen::Index site, const Laws& laws) {
  const double n = t.train.count;
  if (t.peaks.rows() == 1) {
    c.add(laws, n, std::abs(t.peaks(0, site)));
    return c;
  }
  const double a = t.peaks(0, site), b = t.peaks(1, site);
  if (a * b < 0) {
    c.add(laws, n / 2, std::abs(a - b));
  } else {  // both pull the same way: it comes back to rest between them
    c.add(laws, n / 2, std::abs(a));
    c.add(laws, n / 2, std::abs(b));
  }
  return c;
}

Cell passage_cell(Cell c, const RatedPassage& p, Eigen::Index site, const Eigen::VectorXd& stress,
                  double before, const Laws& laws) {
  cycles::Rainflow flow(0);
  const auto sink = [&](const cycles::Cycle& cycle) { c.add(laws, p.count * cycle.count, cycle.range()); };
  flow.push(std::span<const double>(&before, 1), sink);
  flow.push(std::span<const double>(&p.state->standing[site], 1), sink);
  flow.push(std::span<const double>(stress.data(), static_cast<std::size_t>(stress.size())), sink);
  flow.finish(cycles::Residue::repeated, sink);
  return c;
}

Cell loading_cell(Cell c, const std::vector<RatedLeg>& legs, Eigen::Index site, const Laws& laws) {
  double least = std::numeric_limits<double>::infinity(), most = -least;
  for (const RatedLeg& leg : legs) {
    least = std::min(least, leg.standing[site]);
    most = std::max(most, leg.standing[site]);
  }
  c.add(laws, 1, most - least);
  return c;
}

// The road's cycles of a leg, bin by bin of their range.
void add_road_bins(const cycles::Moments& m, cycles::RangeModel model, const fatigue::DamageLaw& law,
                   double count, RangeBins& bins) {
  const double infinite = std::numeric_limits<double>::infinity();
  const std::vector<cycles::PowerLaw> laws = power_laws(law);
  for (std::size_t i = 0; i < RangeBins::size; ++i) {
    const double from = i == 0 ? 0 : RangeBins::from_mpa(i),
                 to = i + 1 < RangeBins::size ? RangeBins::from_mpa(i + 1) : infinite;
    std::vector<cycles::PowerLaw> inside;
    for (cycles::PowerLaw p : laws) {
      p.from_mpa = std::max(p.from_mpa, from);
      p.to_mpa = std::min(p.to_mpa, to);
      if (p.from_mpa < p.to_mpa) inside.push_back(p);
    }
    if (inside.empty()) continue;
    bins.bins[i].damage += count * cycles::damage_per_s(m, model, inside);
    bins.bins[i].cycles += count * cycles::damage_per_s(m, model, {{from, to, 0, 1}});
  }
}

Cell road_cell(Cell c, const RatedLeg& leg, cycles::RangeModel model, const sites::Site& site,
               Eigen::Index index, double factor) {
  const cycles::Moments m = stress_moments(leg.moments, leg.state->rows.col(index));
  const double seconds = seconds_of(*leg.leg);
  c.factored = seconds * road_damage_per_s(m, model, site, factor);
  c.unfactored = seconds * road_damage_per_s(m, model, site, 1);
  c.largest = largest_range(m, seconds);
  if (c.bins) add_road_bins(m, model, fatigue::DamageLaw(*site.curve, factor), c.weight * seconds, *c.bins);
  return c;
}

std::vector<Part> parts_of(const Service& service) {
  std::vector<Part> parts;
  for (const auto& trip : service.trips) {
    parts.push_back({"", "loading"});
    for (const RatedLeg& leg : trip) {
      parts.push_back({leg.leg->id, "road"});
      for (const RatedTrain& t : leg.trains) parts.push_back({leg.leg->id, t.train.source});
      for (const auto& p : leg.passages) parts.push_back({leg.leg->id, p->source});
    }
  }
  return parts;
}

class PartsAccumulator {
 public:
  PartsAccumulator(const Service& service, cycles::RangeModel model, Parts& out, Eigen::Index first = 0,
                   RangeBins* bins = nullptr, std::optional<double> factor = {})
      : service_(service), model_(model), out_(out), first_(first), bins_(bins), factor_(factor) {}

  // All parts of the sites first..last.
  void fill_sites(Eigen::Index first, Eigen::Index last) {
    std::map<const RatedPassage*, Eigen::MatrixXd> stresses;
    for (const auto& trip : service_.trips)
      for (const RatedLeg& leg : trip)
        for (const auto& p : leg.passages)
          stresses[p.get()] =
              p->ride.coordinates.transpose() * p->state->rows.middleCols(first, last - first);
    for (Eigen::Index i = first; i < last; ++i) {
      const sites::Site& site = service_.sites[static_cast<std::size_t>(i)];
      if (!site.curve) continue;
      const double factor = factor_.value_or(service_.factors[static_cast<std::size_t>(i)]);
      const Laws laws{fatigue::DamageLaw(*site.curve, factor), fatigue::DamageLaw(*site.curve)};
      Eigen::Index part = 0;
      for (std::size_t t = 0; t < service_.trips.size(); ++t) {
        const double per_year = service_.duty.trips[t].trips_per_year;
        Cell empty;
        empty.bins = bins_;
        empty.weight = per_year;
        add_damage(part++, i, per_year, loading_cell(empty, service_.trips[t], i, laws));
        for (const RatedLeg& leg : service_.trips[t]) {
          add_damage(part++, i, per_year, road_cell(empty, leg, model_, site, i, factor));
          for (const RatedTrain& train : leg.trains)
            add_damage(part++, i, per_year, train_cell(empty, train, i, laws));
          for (const auto& p : leg.passages) {
            const Eigen::VectorXd stress =
                stresses.at(p.get()).col(i - first).array() + p->state->standing[i];
            add_damage(part++, i, per_year, passage_cell(empty, *p, i, stress, leg.standing[i], laws));
          }
        }
      }
    }
  }

 private:
  void add_damage(Eigen::Index part, Eigen::Index site, double per_year, const Cell& cell) {
    const Eigen::Index column = site - first_;
    out_.factored(part, column) = per_year * cell.factored;
    out_.unfactored(part, column) = per_year * cell.unfactored;
    out_.range_mpa(part, column) = cell.largest;
  }

  const Service& service_;
  cycles::RangeModel model_;
  Parts& out_;
  Eigen::Index first_;  // site of the first column
  RangeBins* bins_;
  std::optional<double> factor_;  // in place of the service's
};

Parts empty_parts(const Service& service, std::size_t sites) {
  Parts out;
  out.parts = parts_of(service);
  out.factored = out.unfactored = out.range_mpa =
      Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(out.parts.size()), static_cast<Eigen::Index>(sites));
  return out;
}

}  // namespace

cycles::Moments stress_moments(const loads::MomentMatrices& m, const Eigen::VectorXd& row) {
  return {row.dot(m.m0 * row), row.dot(m.m1 * row), row.dot(m.m2 * row), row.dot(m.m4 * row)};
}

std::vector<cycles::PowerLaw> power_laws(const fatigue::DamageLaw& law) {
  std::vector<cycles::PowerLaw> laws;
  double to = std::numeric_limits<double>::infinity();
  for (const auto& p : law.pieces()) {
    const double from = std::min(to, std::max(p.above_mpa, law.cutoff_mpa()));
    laws.push_back({from, to, p.slope, p.inverse_a});
    to = from;
  }
  return laws;
}

double road_damage_per_s(const cycles::Moments& m, cycles::RangeModel model, const sites::Site& site,
                         double factor) {
  return cycles::damage_per_s(m, model, power_laws(fatigue::DamageLaw(*site.curve, factor)));
}

Parts damage_in_parts(const Service& service, cycles::RangeModel model) {
  Parts out = empty_parts(service, service.sites.size());
  const auto sites = static_cast<Eigen::Index>(service.sites.size());
  PartsAccumulator filling(service, model, out);
  constexpr Eigen::Index at_once = 64;  // the passages of so many sites stay in the cache
  machine::over_sites(sites, [&](Eigen::Index first, Eigen::Index last) {
    for (Eigen::Index at = first; at < last; at += at_once)
      filling.fill_sites(at, std::min(at + at_once, last));
  });
  return out;
}

RangeBins ranges_in_parts(const Service& service, cycles::RangeModel model, std::size_t site) {
  RangeBins bins;
  Parts unused = empty_parts(service, 1);
  const auto place = static_cast<Eigen::Index>(site);
  PartsAccumulator(service, model, unused, place, &bins).fill_sites(place, place + 1);
  return bins;
}

double damage_per_year(const Service& service, cycles::RangeModel model, std::size_t site,
                       double stress_factor) {
  Parts out = empty_parts(service, 1);
  const auto place = static_cast<Eigen::Index>(site);
  PartsAccumulator(service, model, out, place, nullptr, stress_factor).fill_sites(place, place + 1);
  return out.factored.sum();
}

}  // namespace seamwright::rating
