// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/reasons.h"

#include <algorithm>
#include <cmath>

#include "engine/design/weld_geometry.h"
#include "engine/fatigue/growth.h"
#include "engine/rating/explain.h"
#include "engine/machine/parallel.h"

namespace seamwright::rating {

namespace {

using Reasons = std::vector<std::vector<SiteReasons>>;

// Rows of some sites on the coordinates of a state with the body's modes alone.
Eigen::MatrixXd quasi_static_rows(const Service& service, const RatedState& full, const loads::State& body,
                                  const std::vector<std::size_t>& sites) {
  const Eigen::MatrixXd forces = frame::section_force_map(full.state.assembly) * body.moving.shapes;
  Eigen::MatrixXd rows(body.moving.shapes.cols(), static_cast<Eigen::Index>(sites.size()));
  for (std::size_t k = 0; k < sites.size(); ++k) {
    const sites::Site& site = service.sites[sites[k]];
    for (Eigen::Index i = 0; i < forces.cols(); ++i)
      rows(i, static_cast<Eigen::Index>(k)) = sites::row_under(site, forces.col(i)).dot(forces.col(i));
  }
  return rows;
}

// Damage per second of riding a leg, of each site: with all modes, and with the body's alone; 0 where it has
// none.
void elastic_and_quasi_static(const Job& job, const Service& service, const RatedLeg& leg,
                              const std::vector<std::size_t>& sites, Eigen::Ref<Eigen::ArrayXd> full,
                              Eigen::Ref<Eigen::ArrayXd> quasi) {
  const RatedState& s = *leg.state;
  const loads::State body = loads::with_lowest_modes(s.state, loads::rigid_motions(s.state));
  const loads::Transfer transfer(body, job.duty.structural_damping);
  const auto moments = loads::leg_moments(body, transfer, *leg.road, *leg.leg, job.duty.highest_frequency_hz);
  const Eigen::MatrixXd rows = quasi_static_rows(service, s, body, sites);
  full = quasi = Eigen::ArrayXd::Zero(full.size());
  for (Eigen::Index k = 0; k < full.size(); ++k) {
    const std::size_t place = sites[static_cast<std::size_t>(k)];
    const sites::Site& site = service.sites[place];
    if (!site.curve || site.shear.nonZeros() > 0) continue;
    const Eigen::VectorXd row = s.rows.col(static_cast<Eigen::Index>(place));
    const double factor = service.factors[place];
    full[k] = road_damage_per_s(stress_moments(leg.answer->moments, row), job.range_model, site, factor);
    quasi[k] = road_damage_per_s(stress_moments(moments, rows.col(k)), job.range_model, site, factor);
  }
}

// By crack growth where the nominal stress of a round tube is rated, for each way to look; no other place has
// a solution built in.
std::vector<Evidence> intervals_of(const design::Design& design, const sites::Site& site,
                                   const RangeBins& bins) {
  const design::Subject subject = design::subject_of(design, site.weld);
  const std::string& member =
      site.kind.part == sites::JointPart::wall_beside ? subject.chord : subject.member;
  const frame::RoundTube* tube = member.empty() ? nullptr : design::round_tube(design.frame, member);
  if (!tube || site.curve->stress != fatigue::StressKind::nominal ||
      site.kind.part == sites::JointPart::bolt) {
    Evidence none;
    none.figure = "inspection-interval";
    none.source = {"zahoor-1985", "circumferential through-wall crack"};
    none.coverage = Coverage::none;
    none.value = std::numeric_limits<double>::quiet_NaN();
    none.notes.push_back({"growth.no-solution", {}});
    return {none};
  }
  double cycles = 0, cubes = 0;
  for (std::size_t i = 0; i < RangeBins::size; ++i) {
    const double middle = 0.5 * (RangeBins::from_mpa(i) + RangeBins::from_mpa(i + 1));
    cycles += bins.bins[i].cycles;
    cubes += bins.bins[i].cycles * std::pow(middle, 3);
  }
  std::vector<Evidence> all;
  for (const auto& by : {fatigue::by_eye, fatigue::by_magnetic_particles})
    all.push_back(fatigue::inspection_interval(0.5 * (tube->diameter_mm - tube->wall_mm), tube->wall_mm,
                                               cycles > 0 ? std::cbrt(cubes / cycles) : 0, cycles, by)
                      .evidence);
  return all;
}

std::vector<double> shares_at(const Parts& parts, std::size_t place) {
  const Eigen::VectorXd damage = parts.factored.col(static_cast<Eigen::Index>(place));
  const double total = damage.sum();
  std::vector<double> shares;
  for (const double d : damage) shares.push_back(total > 0 ? d / total : 0);
  return shares;
}

// The ratio holds for each weld's governing site; it is NaN where the road does no damage.
Eigen::ArrayXd elastic_ratios(const Job& job, const Service& service,
                              const std::vector<std::vector<std::size_t>>& places) {
  std::vector<std::size_t> sites;
  for (const auto& of_weld : places) sites.push_back(of_weld[0]);
  std::vector<std::pair<const RatedLeg*, double>> legs;  // and how often a year
  for (std::size_t t = 0; t < service.trips.size(); ++t)
    for (const RatedLeg& leg : service.trips[t])
      legs.emplace_back(&leg, service.duty.trips[t].trips_per_year);
  Eigen::ArrayXXd full(static_cast<Eigen::Index>(sites.size()), static_cast<Eigen::Index>(legs.size())),
      quasi = full;
  machine::over_tasks(legs.size(), 0, [&](std::size_t i) {
    const auto column = static_cast<Eigen::Index>(i);
    elastic_and_quasi_static(job, service, *legs[i].first, sites, full.col(column), quasi.col(column));
    const double per_year = seconds_of(*legs[i].first->leg) * legs[i].second;
    full.col(column) *= per_year;
    quasi.col(column) *= per_year;
  });
  return full.rowwise().sum() / quasi.rowwise().sum();
}

// The first site of each kind, which is the worst.
std::vector<std::size_t> worst_of_each_kind(const WeldRating& weld, bool covered) {
  std::vector<std::size_t> first;
  for (std::size_t k = 0; k < weld.sites.size(); ++k) {
    const SiteRating& site = weld.sites[k];
    if (covered && site.curve.empty()) continue;
    if (std::none_of(first.begin(), first.end(), [&](auto f) { return weld.sites[f].kind == site.kind; }))
      first.push_back(k);
  }
  return first;
}

std::vector<Evidence> leg_stresses(const Service& service, const Parts& parts, std::size_t place,
                                   const std::vector<double>& shares) {
  std::vector<Evidence> all;
  for (const auto& trip : service.trips)
    for (const RatedLeg& leg : trip) {
      const auto m = stress_moments(leg.answer->moments, leg.state->rows.col(static_cast<Eigen::Index>(place)));
      double share = 0;
      for (std::size_t p = 0; p < parts.parts.size(); ++p)
        if (parts.parts[p].leg == leg.leg->id) share += shares[p];
      all.push_back(leg_stress(*leg.leg, std::sqrt(std::max(0.0, m.m0)), share));
    }
  return all;
}

std::vector<Evidence> details_of(const Job& job, const Service& service, const Damage& damage,
                                 std::size_t place) {
  const RangeBins bins = ranges_at(job, service, damage, place);
  std::vector<Evidence> all{channels(service, damage.parts, place), cycles_by_range(bins)};
  for (Evidence& interval : intervals_of(job.design, service.sites[place], bins))
    all.push_back(std::move(interval));
  return all;
}

}  // namespace

std::vector<std::vector<SiteReasons>> reasons_of(const Job& job, const Service& service, const Damage& damage,
                                                 const Verdicts& verdicts, const std::string& explained) {
  const loads::State& heaviest = service.states.rbegin()->second.state;
  const Eigen::VectorXd standing = frame::section_force_map(heaviest.assembly) * heaviest.static_displacement;
  const Eigen::ArrayXd elastic = elastic_ratios(job, service, verdicts.places);
  Reasons reasons(verdicts.welds.size());
  machine::over_tasks(reasons.size(), 0, [&](std::size_t w) {
    const WeldRating& weld = verdicts.welds[w];
    const std::vector<std::size_t>& places = verdicts.places[w];
    std::vector<SiteReasons>& sites = reasons[w];
    sites.resize(places.size());
    for (std::size_t k = 0; k < places.size(); ++k)
      sites[k].damage_share = shares_at(damage.parts, places[k]);
    if (const double ratio = elastic[static_cast<Eigen::Index>(w)]; std::isfinite(ratio))
      sites[0].elastic_over_quasi_static = ratio;
    for (const std::size_t k : worst_of_each_kind(weld, false))
      sites[k].before = {standing_stress(service.sites[places[k]], heaviest, standing)};
    sites[0].behind = leg_stresses(service, damage.parts, places[0], sites[0].damage_share);
    if (w >= detailed_welds && weld.id != explained) return;
    for (const std::size_t k : worst_of_each_kind(weld, true))
      for (Evidence& e : details_of(job, service, damage, places[k])) sites[k].behind.push_back(std::move(e));
  });
  return reasons;
}

}  // namespace seamwright::rating
