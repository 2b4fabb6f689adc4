// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/reports.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/design/weld_geometry.h"
#include "engine/evidence/constants.h"
#include "engine/fatigue/growth.h"
#include "engine/rating/explain.h"
#include "engine/threads/parallel.h"

namespace seamwright::rating {

namespace {

// The node under the payload, where published measurements in cargo boxes were taken.
std::string box_node(const design::Design& design) {
  std::string best;
  double least = std::numeric_limits<double>::infinity();
  for (const frame::Node& node : design.frame.nodes) {
    const auto& nodes = design.carriers.box_nodes;
    const double away = (node.position_mm - design.carriers.payload_centre_mm).norm();
    if (away < least && std::find(nodes.begin(), nodes.end(), node.id) != nodes.end()) {
      best = node.id;
      least = away;
    }
  }
  return best;
}

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
    full[k] = road_damage_per_s(stress_moments(leg.moments, row), job.range_model, site, factor);
    quasi[k] = road_damage_per_s(stress_moments(moments, rows.col(k)), job.range_model, site, factor);
  }
}

// Intervals come by crack growth where the nominal stress of a round tube is rated, for each way to look; no
// other place has a solution built in.
std::vector<Evidence> intervals_of(const design::Design& design, const sites::Site& site,
                                   const RangeBins& bins) {
  const design::Subject subject = design::subject_of(design, site.weld);
  const std::string& member = site.kind == "chord-wall" ? subject.chord : subject.member;
  const frame::RoundTube* tube = member.empty() ? nullptr : design::round_tube(design.frame, member);
  if (!tube || site.curve->stress != fatigue::StressKind::nominal || site.kind.starts_with("bolt")) {
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

}  // namespace

void add_shares(const Parts& parts, const Order& order, Rating& rating) {
  rating.parts = parts.parts;
  for (std::size_t w = 0; w < order.size(); ++w)
    for (std::size_t k = 0; k < order[w].size(); ++k) {
      const Eigen::VectorXd damage = parts.factored.col(static_cast<Eigen::Index>(order[w][k]));
      const double total = damage.sum();
      for (const double d : damage)
        rating.welds[w].sites[k].damage_share.push_back(total > 0 ? d / total : 0);
    }
}

void add_elastic(const Job& job, const Service& service, const Order& order, Rating& rating) {
  std::vector<std::size_t> sites;
  for (const auto& places : order) sites.push_back(places[0]);
  std::vector<std::pair<const RatedLeg*, double>> legs;  // and how often a year
  for (std::size_t t = 0; t < service.trips.size(); ++t)
    for (const RatedLeg& leg : service.trips[t])
      legs.emplace_back(&leg, service.duty.trips[t].trips_per_year);
  Eigen::ArrayXXd full(static_cast<Eigen::Index>(sites.size()), static_cast<Eigen::Index>(legs.size())),
      quasi = full;
  threads::over_tasks(legs.size(), 0, [&](std::size_t i) {
    const auto column = static_cast<Eigen::Index>(i);
    elastic_and_quasi_static(job, service, *legs[i].first, sites, full.col(column), quasi.col(column));
    const double per_year = seconds_of(*legs[i].first->leg) * legs[i].second;
    full.col(column) *= per_year;
    quasi.col(column) *= per_year;
  });
  const Eigen::ArrayXd ratio = full.rowwise().sum() / quasi.rowwise().sum();
  for (std::size_t k = 0; k < sites.size(); ++k)
    if (const double r = ratio[static_cast<Eigen::Index>(k)]; std::isfinite(r))
      rating.welds[k].sites[0].elastic_over_quasi_static = r;
}

void add_reasons(const Service& service, const Parts& parts, const Order& order, Rating& rating) {
  const loads::State& heaviest = service.states.rbegin()->second.state;
  const Eigen::VectorXd standing = frame::section_force_map(heaviest.assembly) * heaviest.static_displacement;
  for (std::size_t w = 0; w < order.size(); ++w) {
    std::vector<SiteRating>& rated = rating.welds[w].sites;
    std::vector<std::string> kinds;
    for (std::size_t k = 0; k < rated.size(); ++k) {
      if (std::find(kinds.begin(), kinds.end(), rated[k].kind) != kinds.end()) continue;
      kinds.push_back(rated[k].kind);
      rated[k].evidence.because.insert(rated[k].evidence.because.begin(),
                                       standing_stress(service.sites[order[w][k]], heaviest, standing));
    }
    const auto site = static_cast<Eigen::Index>(order[w][0]);
    for (const auto& trip : service.trips)
      for (const RatedLeg& leg : trip) {
        const auto m = stress_moments(leg.moments, leg.state->rows.col(site));
        double share = 0;
        for (std::size_t p = 0; p < parts.parts.size(); ++p)
          if (parts.parts[p].leg == leg.leg->id) share += rated[0].damage_share[p];
        rated[0].evidence.because.push_back(leg_stress(*leg.leg, std::sqrt(std::max(0.0, m.m0)), share));
      }
  }
}

void add_detail(const design::Design& design, const Service& service, const Parts& parts,
                cycles::RangeModel model, const std::vector<RangeBins>& ranges, const Order& order,
                const std::string& explained, Rating& rating) {
  threads::over_tasks(order.size(), 0, [&](std::size_t w) {
    if (w >= detailed_welds && rating.welds[w].id != explained) return;
    std::vector<std::string> kinds;
    for (std::size_t k = 0; k < order[w].size(); ++k) {
      SiteRating& site = rating.welds[w].sites[k];
      if (site.curve.empty() || std::find(kinds.begin(), kinds.end(), site.kind) != kinds.end()) continue;
      kinds.push_back(site.kind);
      const std::size_t place = order[w][k];
      site.evidence.because.push_back(channels(service, parts, place));
      RangeBins bins;
      if (ranges.empty())
        bins = ranges_in_parts(service, model, place);
      else
        bins.add(ranges[place], 1 / static_cast<double>(rating.realisations));
      site.evidence.because.push_back(cycles_by_range(bins));
      for (Evidence& interval : intervals_of(design, service.sites[place], bins))
        site.evidence.because.push_back(std::move(interval));
    }
  });
}

void add_reports(const Job& job, const Service& service, const std::vector<std::vector<double>>& lift,
                 Rating& rating) {
  const std::string node = box_node(job.design);
  for (std::size_t t = 0; t < service.trips.size(); ++t)
    for (std::size_t i = 0; i < service.trips[t].size(); ++i) {
      const RatedLeg& leg = service.trips[t][i];
      LegReport report{service.duty.trips[t].id,
                       leg.leg->id,
                       leg.leg->road,
                       leg.leg->pose,
                       leg.leg->speed_kmh,
                       leg.leg->distance_km,
                       leg.levels,
                       std::numeric_limits<double>::quiet_NaN(),
                       lift[t][i]};
      if (!node.empty())
        report.box_acceleration_rms_m_s2 =
            loads::levels_of(leg.state->state, leg.spectra, node).seat_acceleration_rms_m_s2;
      rating.legs.push_back(std::move(report));
    }
  for (const auto& [pose, s] : service.states) {
    StateReport report;
    report.pose = pose;
    report.total_mass_kg = s.state.static_wheel_load_n.sum() / gravity_m_s2;
    report.static_wheel_load_n = s.state.static_wheel_load_n;
    for (double f : s.state.modes.frequency_hz) report.mode_frequency_hz.push_back(f);
    report.residual = s.state.static_residual;
    report.held_reaction_n = s.state.held_reaction_n;
    rating.states.push_back(std::move(report));
  }
}

}  // namespace seamwright::rating
