// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/parts.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <optional>

#include "engine/rating/bytes.h"
#include "engine/machine/parallel.h"

namespace seamwright::rating {

namespace {

// The damage law of a site as cycles and as spectra ask for it.
struct Law {
  fatigue::DamageLaw cycle;
  std::vector<cycles::PowerLaw> road;
  Law(const fatigue::Curve& curve, double stress_factor) : cycle(curve, stress_factor), road(power_laws(cycle)) {}
};

// The laws of some sites, with and without their factors on stress. Neighbours mostly share theirs.
class SiteLaws {
 public:
  SiteLaws(const Service& service, Eigen::Index first, Eigen::Index last) : first_(first) {
    const fatigue::Curve* curve = nullptr;
    double factor = 0, size = 0;
    for (auto i = static_cast<std::size_t>(first); i < static_cast<std::size_t>(last); ++i) {
      if (!service.sites[i].curve) {
        place_.push_back(none);
        continue;
      }
      if (service.sites[i].curve != curve || service.factors[i] != factor || service.size_factors[i] != size) {
        curve = service.sites[i].curve;
        factor = service.factors[i];
        size = service.size_factors[i];
        laws_.emplace_back(Law(*curve, factor), Law(*curve, size));
      }
      place_.push_back(laws_.size() - 1);
    }
  }
  /// Null where the site has no curve.
  const std::pair<Law, Law>* laws_of_site(Eigen::Index site) const {
    const std::size_t place = place_[static_cast<std::size_t>(site - first_)];
    return place == none ? nullptr : &laws_[place];
  }

 private:
  static constexpr std::size_t none = std::string::npos;
  Eigen::Index first_;
  std::vector<std::pair<Law, Law>> laws_;
  std::vector<std::size_t> place_;
};

// Twice the most probable largest peak of a Gaussian stress in the time of the leg, 2 s sqrt(2
// ln(crossings)): Cartwright & Longuet-Higgins, Proc. R. Soc. A 237 (1956) 212 [from memory]. For show; no
// damage rests on it.
double largest_range(const cycles::Moments& m, double seconds) {
  if (!(m.m0 > 0 && m.m2 > 0)) return 0;
  return 2 * std::sqrt(2 * m.m0 * std::log(std::max(1.0, seconds * std::sqrt(m.m2 / m.m0))));
}

// Damage of counted cycles; `damages` is room for that of each.
double counted_damage(const SiteCycles& cycles, const Law& law, std::vector<double>& damages) {
  damages.resize(std::max(damages.size(), cycles.ranges_mpa.size()));
  law.cycle.damages(cycles.ranges_mpa, damages.data());
  double sum = 0;
  for (std::size_t i = 0; i < cycles.ranges_mpa.size(); ++i) sum += cycles.counts[i] * damages[i];
  return sum;
}

WeldDamage damage_of_part(const YearPart& part, const SiteLaws& laws, cycles::RangeModel model, Eigen::Index first,
                          Eigen::Index last) {
  WeldDamage d;
  d.factored = d.unfactored = d.range_mpa = Eigen::ArrayXd::Zero(last - first);
  const PartCycles cycles(part, first, last);
  const double seconds = part.is_road() ? seconds_of(*part.leg->leg) : 0;
  SiteCycles counted;
  std::vector<double> damages;
  for (Eigen::Index i = first; i < last; ++i) {
    const auto* law = laws.laws_of_site(i);
    if (!law) continue;
    if (part.is_road()) {
      const cycles::Moments m = cycles.moments(i);
      const cycles::GaussianRanges ranges(m, model);
      d.factored[i - first] = seconds * ranges.damage_per_s(law->first.road);
      d.unfactored[i - first] = seconds * ranges.damage_per_s(law->second.road);
      d.range_mpa[i - first] = largest_range(m, seconds);
    } else {
      cycles.count(i, counted);
      d.factored[i - first] = counted_damage(counted, law->first, damages);
      d.unfactored[i - first] = counted_damage(counted, law->second, damages);
      d.range_mpa[i - first] = *std::max_element(counted.ranges_mpa.begin(), counted.ranges_mpa.end());
    }
  }
  return d;
}

// The sites of a weld and how a trike in its pose moves them, in bytes.
std::string bytes_of(const Service& service, const RatedState& state, Eigen::Index first, Eigen::Index last) {
  ByteWriter w;
  w.add_all(state.rows.middleCols(first, last - first), state.standing.segment(first, last - first));
  const fatigue::Curve* told = nullptr;
  for (auto i = static_cast<std::size_t>(first); i < static_cast<std::size_t>(last); ++i) {
    const fatigue::Curve* curve = service.sites[i].curve;
    w.add_all(service.factors[i], service.size_factors[i], curve != nullptr, curve == told);
    if (!curve || curve == told) continue;
    told = curve;
    for (const fatigue::Segment& s : curve->segments) w.add_all(s.slope, s.log_a, s.to_cycles);
    w.add(curve->cutoff_mpa.value_or(-1));
  }
  return w.written();
}

// Roads and passages are worth remembering, what else there is takes no time.
class WeldParts {
 public:
  WeldParts(const Service& service, cycles::RangeModel model, Memory& memory, Eigen::Index first, Eigen::Index last)
      : service_(service), model_(model), memory_(memory), first_(first), last_(last), laws_(service, first, last) {}

  std::shared_ptr<const WeldDamage> damage(const YearPart& part) {
    const auto make = [&] { return damage_of_part(part, laws_, model_, first_, last_); };
    ByteWriter with;
    if (part.is_road()) {
      with.add_all(static_cast<int>(model_), seconds_of(*part.leg->leg));
      return memory_.damage(weld(*part.leg->state), {part.leg->answer, with.written()}, make);
    }
    if (part.passage) {
      with.add(part.leg->standing.segment(first_, last_ - first_));
      return memory_.damage(weld(*part.passage->state), {part.passage->ride, with.written()}, make);
    }
    return std::make_shared<const WeldDamage>(make());
  }

 private:
  Memory::Weld& weld(const RatedState& state) {
    std::shared_ptr<Memory::Weld>& known = welds_[&state];
    if (!known) known = memory_.weld(bytes_of(service_, state, first_, last_));
    return *known;
  }

  const Service& service_;
  cycles::RangeModel model_;
  Memory& memory_;
  Eigen::Index first_, last_;
  SiteLaws laws_;
  std::map<const RatedState*, std::shared_ptr<Memory::Weld>> welds_;
};

// First sites of the welds, and the end.
std::vector<Eigen::Index> weld_bounds(const Service& service) {
  std::vector<Eigen::Index> bounds{0};
  for (std::size_t i = 1; i <= service.sites.size(); ++i)
    if (i == service.sites.size() || service.sites[i].weld != service.sites[i - 1].weld)
      bounds.push_back(static_cast<Eigen::Index>(i));
  return bounds;
}

// The road's cycles of a leg, bin by bin of their range.
void add_road_bins(const cycles::GaussianRanges& ranges, const Law& law, double count, RangeBins& bins) {
  const double infinite = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < RangeBins::size; ++i) {
    const double from = i == 0 ? 0 : RangeBins::from_mpa(i),
                 to = i + 1 < RangeBins::size ? RangeBins::from_mpa(i + 1) : infinite;
    std::vector<cycles::PowerLaw> inside;
    for (cycles::PowerLaw p : law.road) {
      p.from_mpa = std::max(p.from_mpa, from);
      p.to_mpa = std::min(p.to_mpa, to);
      if (p.from_mpa < p.to_mpa) inside.push_back(p);
    }
    if (inside.empty()) continue;
    bins.bins[i].damage += count * ranges.damage_per_s(inside);
    bins.bins[i].cycles += count * ranges.damage_per_s({{from, to, 0, 1}});
  }
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

Parts damage_in_parts(const Service& service, cycles::RangeModel model, Memory& memory) {
  Parts out;
  const std::vector<YearPart> parts = year_parts(service);
  for (const YearPart& part : parts) out.parts.push_back(part.name);
  out.factored = out.unfactored = out.range_mpa = Eigen::MatrixXd::Zero(
      static_cast<Eigen::Index>(parts.size()), static_cast<Eigen::Index>(service.sites.size()));
  if (service.sites.empty()) return out;
  const std::vector<Eigen::Index> bounds = weld_bounds(service);
  machine::over_tasks(bounds.size() - 1, 0, [&](std::size_t w) {
    const Eigen::Index first = bounds[w], count = bounds[w + 1] - first;
    WeldParts weld(service, model, memory, first, first + count);
    for (std::size_t p = 0; p < parts.size(); ++p) {
      const auto row = static_cast<Eigen::Index>(p);
      const std::shared_ptr<const WeldDamage> d = weld.damage(parts[p]);
      out.factored.row(row).segment(first, count) = parts[p].per_year * d->factored.matrix().transpose();
      out.unfactored.row(row).segment(first, count) = parts[p].per_year * d->unfactored.matrix().transpose();
      if (parts[p].per_year > 0) out.range_mpa.row(row).segment(first, count) = d->range_mpa.matrix().transpose();
    }
  });
  return out;
}

Parts damage_in_parts(const Service& service, cycles::RangeModel model) {
  Memory memory;
  return damage_in_parts(service, model, memory);
}

RangeBins ranges_in_parts(const Service& service, cycles::RangeModel model, std::size_t site) {
  RangeBins bins;
  if (!service.sites[site].curve) return bins;
  const Law law(*service.sites[site].curve, service.factors[site]);
  const auto place = static_cast<Eigen::Index>(site);
  SiteCycles counted;
  for (const YearPart& part : year_parts(service)) {
    const PartCycles cycles(part, place, place + 1);
    if (part.is_road()) {
      const cycles::GaussianRanges ranges(cycles.moments(place), model);
      add_road_bins(ranges, law, part.per_year * seconds_of(*part.leg->leg), bins);
      continue;
    }
    cycles.count(place, counted);
    for (std::size_t i = 0; i < counted.counts.size(); ++i) {
      const double count = part.per_year * counted.counts[i];
      bins.add(counted.ranges_mpa[i], count, count * law.cycle.damage(counted.ranges_mpa[i]));
    }
  }
  return bins;
}

std::vector<double> damages_per_year(const Service& service, cycles::RangeModel model, std::size_t site,
                                     std::span<const double> stress_factors) {
  std::vector<double> sums(stress_factors.size(), 0), damages;
  if (!service.sites[site].curve) return sums;
  std::vector<Law> laws;
  for (const double factor : stress_factors) laws.emplace_back(*service.sites[site].curve, factor * service.size_factors[site]);
  const auto place = static_cast<Eigen::Index>(site);
  SiteCycles counted;
  for (const YearPart& part : year_parts(service)) {
    const PartCycles cycles(part, place, place + 1);
    std::optional<cycles::GaussianRanges> road;
    if (part.is_road())
      road.emplace(cycles.moments(place), model);
    else
      cycles.count(place, counted);
    for (std::size_t k = 0; k < laws.size(); ++k)
      sums[k] += part.per_year * (road ? seconds_of(*part.leg->leg) * road->damage_per_s(laws[k].road)
                                       : counted_damage(counted, laws[k], damages));
  }
  return sums;
}

}  // namespace seamwright::rating
