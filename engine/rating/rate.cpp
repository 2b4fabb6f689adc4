// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/rate.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "engine/loads/stability.h"
#include "engine/rating/count.h"
#include "engine/rating/explain.h"
#include "engine/rating/geometry.h"

namespace seamwright::rating {

namespace {

// Two standard deviations of log-normal loads: the survival of the mean-minus-two curve, applied to loads. An
// assumption of this project, said so in every rating.
double load_factor(const Rules& rules) {
  if (rules.load_factor > 0) return rules.load_factor;
  return std::exp(2 * std::sqrt(std::log1p(rules.load_scatter * rules.load_scatter)));
}

// Values 1, 2, 3, 10 of DNV-OS-C101 [from memory]; which case takes which is an assumption of this project.
double design_fatigue_factor(const Rules& rules) {
  if (rules.design_fatigue_factor > 0) return rules.design_fatigue_factor;
  const bool safe_life = rules.strategy != "inspected";
  if (rules.consequence == "people") return safe_life ? 10 : 3;
  if (rules.consequence == "whole-frame") return safe_life ? 3 : 2;
  return safe_life ? 2 : 1;
}

// Corners and stops beyond the tip-over limits of a leg's payload are capped there; a trike that tips at rest
// is refused.
loads::Duty capped(const Job& job, const frame::Frame& cut, std::vector<Message>& notes) {
  loads::Duty duty = job.duty;
  for (loads::Leg& leg : duty.trip.legs) {
    const loads::StabilityCase c =
        loads::stability(cut, job.design.carriers, duty.rider, {}, {leg.payload_kg}, 1).cases[0];
    const double side = std::min(c.left.acceleration_m_s2, c.right.acceleration_m_s2);
    if (!(side > 0 && c.forward_m_s2 > 0 && c.backward_m_s2 > 0))
      throw Fault{
          Message{"rating.tips-at-rest", {text("leg", leg.id), number("payload", leg.payload_kg, "kg")}}};
    if (leg.corner_m_s2 > side) {
      notes.push_back({"rating.corner-capped",
                       {text("leg", leg.id), number("asked", leg.corner_m_s2, "m/s2"),
                        number("threshold", side, "m/s2")}});
      leg.corner_m_s2 = side;
    }
    if (leg.braking_m_s2 > c.forward_m_s2) {
      notes.push_back({"rating.brake-capped",
                       {text("leg", leg.id), number("asked", leg.braking_m_s2, "m/s2"),
                        number("threshold", c.forward_m_s2, "m/s2")}});
      leg.braking_m_s2 = c.forward_m_s2;
    }
    const double on_saddle = duty.rider.mass_kg * duty.rider.saddle_share * 9.80665;
    if ((1 - duty.drive.bar_pull_share) * leg.pedal_force_n > on_saddle)
      notes.push_back(
          {"rating.saddle-unloaded",
           {text("leg", leg.id), number("force", leg.pedal_force_n, "N"), number("weight", on_saddle, "N")}});
  }
  return duty;
}

std::map<double, RatedState> make_states(const Job& job, const frame::Frame& cut, const Published& published,
                                         std::vector<Site>& sites) {
  std::map<double, RatedState> states;
  for (const loads::Leg& leg : job.duty.trip.legs) {
    if (states.contains(leg.payload_kg)) continue;
    const frame::Frame laden = loads::laden(cut, job.design.carriers, job.duty.rider, leg.payload_kg);
    loads::State state = loads::make_state(laden, leg.payload_kg, job.duty.highest_frequency_hz);
    if (sites.empty()) sites = make_sites(job.design, cut, state.assembly, job.rules, published);
    Eigen::MatrixXd slow = loads::manoeuvre_solutions(laden, state.assembly, job.design.carriers, job.duty);
    loads::Transfer transfer(state, job.duty.structural_damping);
    states.emplace(leg.payload_kg,
                   RatedState{std::move(state), std::move(transfer), {}, {}, std::move(slow), {}});
  }
  return states;
}

Eigen::SparseMatrix<double> row_matrix(const std::vector<Site>& sites, Eigen::Index columns,
                                       Eigen::SparseVector<double> Site::*part) {
  std::vector<Eigen::Triplet<double>> entries;
  for (std::size_t i = 0; i < sites.size(); ++i)
    for (Eigen::SparseVector<double>::InnerIterator it(sites[i].*part); it; ++it)
      entries.emplace_back(static_cast<Eigen::Index>(i), it.index(), it.value());
  Eigen::SparseMatrix<double> rows(static_cast<Eigen::Index>(sites.size()), columns);
  rows.setFromTriplets(entries.begin(), entries.end());
  return rows;
}

// Rows on coordinates. Throat stress: sqrt(across^2 + along^2) of in-phase ranges is at most |across| +
// |along|, so the sum with the sign that correlates is counted: never below the formula, at most 1.41 of it.
void set_rows(const loads::Duty& duty, std::map<double, RatedState>& states, const std::vector<Site>& sites) {
  const Eigen::Index columns =
      12 * static_cast<Eigen::Index>(states.begin()->second.state.assembly.elements.size());
  const auto main = row_matrix(sites, columns, &Site::row), shear = row_matrix(sites, columns, &Site::shear);
  Eigen::VectorXd correlation = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(sites.size()));
  std::map<double, Eigen::MatrixXd> shear_rows;
  for (auto& [payload, s] : states) {
    const Eigen::SparseMatrix<double> forces = frame::section_force_map(s.state.assembly);
    const Eigen::MatrixXd on_basis = forces * s.state.basis;
    s.rows = (main * on_basis).transpose();
    shear_rows[payload] = (shear * on_basis).transpose();
  }
  for (const loads::Leg& leg : duty.trip.legs) {
    RatedState& s = states.at(leg.payload_kg);
    const auto moments =
        loads::leg_moments(s.state, s.transfer, road_of(duty, leg), leg, duty.highest_frequency_hz);
    const Eigen::MatrixXd weighted = moments.m0 * shear_rows[leg.payload_kg];
    correlation += (s.rows.cwiseProduct(weighted)).colwise().sum().transpose();
  }
  const Eigen::VectorXd sign = correlation.unaryExpr([](double c) { return c < 0 ? -1.0 : 1.0; });
  for (auto& [payload, s] : states) {
    const Eigen::SparseMatrix<double> forces = frame::section_force_map(s.state.assembly);
    const Eigen::VectorXd standing = forces * s.state.static_displacement;
    s.rows += shear_rows[payload] * sign.asDiagonal();
    s.standing = main * standing + sign.cwiseProduct(Eigen::VectorXd(shear * standing));
    const Eigen::MatrixXd slow = forces * s.slow;
    s.slow_rows = (main * slow + sign.asDiagonal() * Eigen::MatrixXd(shear * slow)).transpose();
  }
}

struct Sums {
  std::vector<double> factored, unfactored, squares, largest;
};

Sums all_trips(const Job& job, const std::map<double, RatedState>& states, const std::vector<Site>& sites,
               const std::vector<double>& factors, Method method, const Progress& progress,
               std::size_t& realisations) {
  Sums sums;
  for (auto* v : {&sums.factored, &sums.unfactored, &sums.squares, &sums.largest}) v->assign(sites.size(), 0);
  realisations = method == Method::time ? job.duty.seeds.size() : 1;
  for (std::size_t k = 0; k < realisations; ++k) {
    const double n = static_cast<double>(realisations), from = static_cast<double>(k) / n, to = from + 1 / n;
    const TripDamage trip = method == Method::time ? count_trip(job.duty, states, sites, factors,
                                                                job.duty.seeds[k], progress, from, to)
                                                   : spectral_trip(job.duty, states, sites, factors);
    for (std::size_t i = 0; i < sites.size(); ++i) {
      sums.factored[i] += trip.factored[i] / n;
      sums.unfactored[i] += trip.unfactored[i] / n;
      sums.squares[i] += trip.factored[i] * trip.factored[i] / n;
      sums.largest[i] = std::max(sums.largest[i], trip.largest_range_mpa[i]);
    }
  }
  return sums;
}

std::string site_name(const Site& site) {
  std::string name = site.kind;
  return name.append("@").append(std::to_string(static_cast<int>(std::lround(site.angle_deg))));
}

SiteRating rate_site(const Job& job, const Site& site, double per_trip, double bare_per_trip, double spread,
                     double largest, double factor) {
  const loads::Trip& trip = job.duty.trip;
  const double dff = design_fatigue_factor(job.rules), trips = trip.trips_per_year * trip.years;
  SiteRating r;
  r.site = site_name(site);
  r.kind = site.kind;
  r.angle_deg = site.angle_deg;
  r.evidence.figure = "damage";
  r.evidence.coverage = site.evidence.coverage;
  r.evidence.because = {site.evidence};
  if (!site.curve) {
    r.damage = r.damage_unfactored = std::numeric_limits<double>::quiet_NaN();
    r.life_years = r.life_km = r.life_years_unfactored = r.life_km_unfactored =
        std::numeric_limits<double>::quiet_NaN();
    r.coverage = Coverage::none;
    r.verdict = Verdict::not_covered;
    return r;
  }
  r.curve = site.curve->id;
  r.damage = per_trip * trips * dff;
  r.damage_unfactored = bare_per_trip * trips;
  r.life_years = trip.years / r.damage;
  r.life_years_unfactored = trip.years / r.damage_unfactored;
  const double km_per_year = loads::distance_km(trip) * trip.trips_per_year;
  r.life_km = r.life_years * km_per_year;
  r.life_km_unfactored = r.life_years_unfactored * km_per_year;
  r.damage_spread = spread;
  r.largest_range_mpa = largest;
  const fatigue::LifeResult life =
      fatigue::sn_life(*site.curve, std::max(largest, 1e-9) * factor, site.thickness_mm);
  r.coverage = worse(site.evidence.coverage, life.evidence.coverage);
  r.verdict = r.damage <= 1 ? Verdict::meets : Verdict::falls_short;
  r.evidence.value = r.damage;
  r.evidence.source = site.curve->source;
  r.evidence.from_memory = site.curve->from_memory || site.evidence.from_memory;
  r.evidence.coverage = r.coverage;
  r.evidence.inputs = {{"damage_per_trip", per_trip, ""},
                       {"trips", trips, ""},
                       {"design_fatigue_factor", dff, ""},
                       {"load_factor", load_factor(job.rules), ""},
                       {"largest_range", largest, "MPa"}};
  r.evidence.because.push_back(life.evidence);
  return r;
}

bool worse_site(const SiteRating& a, const SiteRating& b) {
  if (a.verdict != b.verdict) return a.verdict > b.verdict;
  return a.damage > b.damage;
}

// The node under the payload, where published measurements in cargo boxes were taken.
std::string box_node(const Design& design) {
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

void add_reports(const Job& job, const std::map<double, RatedState>& states, Rating& rating) {
  for (const loads::Leg& leg : job.duty.trip.legs) {
    const RatedState& s = states.at(leg.payload_kg);
    LegReport report{leg.id,
                     leg.road,
                     leg.payload_kg,
                     leg.speed_kmh,
                     leg.distance_km,
                     loads::leg_levels(s.state, s.transfer, road_of(job.duty, leg), leg,
                                       job.duty.highest_frequency_hz, job.design.carriers.saddle_node),
                     std::numeric_limits<double>::quiet_NaN()};
    if (const std::string node = box_node(job.design); !node.empty())
      report.box_acceleration_rms_m_s2 = loads::leg_levels(s.state, s.transfer, road_of(job.duty, leg), leg,
                                                           job.duty.highest_frequency_hz, node)
                                             .seat_acceleration_rms_m_s2;
    const double lift = report.levels.lift_share.maxCoeff();
    if (lift > 0.01)
      rating.notes.push_back({"rating.wheel-lifts", {text("leg", leg.id), number("share", 100 * lift, "%")}});
    rating.legs.push_back(std::move(report));
  }
  for (const auto& [payload, s] : states) {
    StateReport report;
    report.payload_kg = payload;
    report.total_mass_kg = s.state.static_wheel_load_n.sum() / 9.80665;
    report.static_wheel_load_n = s.state.static_wheel_load_n;
    for (double f : s.state.modes.frequency_hz) report.mode_frequency_hz.push_back(f);
    report.residual = s.state.static_residual;
    report.held_reaction_n = s.state.held_reaction_n;
    rating.states.push_back(std::move(report));
  }
}

// Shares of the legs at each weld's governing site, and the chain from section forces for the worst site of
// each kind.
void add_reasons(const Job& job, const std::map<double, RatedState>& states, const std::vector<Site>& sites,
                 const std::vector<double>& factors, const std::vector<std::vector<std::size_t>>& order,
                 Rating& rating) {
  const std::size_t legs = job.duty.trip.legs.size();
  std::vector<std::vector<double>> deviation(order.size());
  for (const loads::Leg& leg : job.duty.trip.legs) {
    const RatedState& s = states.at(leg.payload_kg);
    const auto moments =
        loads::leg_moments(s.state, s.transfer, road_of(job.duty, leg), leg, job.duty.highest_frequency_hz);
    for (std::size_t w = 0; w < order.size(); ++w) {
      const std::size_t i = order[w][0];
      const auto column = s.rows.col(static_cast<Eigen::Index>(i));
      deviation[w].push_back(std::sqrt(std::max(0.0, column.dot(moments.m0 * column))));
      rating.welds[w].sites[0].damage_share.push_back(
          leg_damage(leg, s, moments, sites[i], static_cast<Eigen::Index>(i), factors[i]));
    }
  }
  const RatedState& heaviest = states.rbegin()->second;
  for (std::size_t w = 0; w < order.size(); ++w) {
    std::vector<SiteRating>& rated = rating.welds[w].sites;
    auto& share = rated[0].damage_share;
    const double total = std::accumulate(share.begin(), share.end(), 0.0);
    for (double& x : share) x = total > 0 ? x / total : 0;
    std::vector<std::string> kinds;
    for (std::size_t k = 0; k < rated.size(); ++k) {
      if (std::find(kinds.begin(), kinds.end(), rated[k].kind) != kinds.end()) continue;
      kinds.push_back(rated[k].kind);
      rated[k].evidence.because.insert(rated[k].evidence.because.begin(),
                                       standing_stress(sites[order[w][k]], heaviest));
    }
    for (std::size_t l = 0; l < legs; ++l)
      rated[0].evidence.because.push_back(leg_stress(job.duty.trip.legs[l], deviation[w][l], share[l]));
  }
}

}  // namespace

Rating rate(const Job& asked, const Published& published, Method method, const Progress& progress) {
  if (asked.design.welds.empty()) throw Fault{Message{"rating.no-welds", {}}};
  const frame::Frame cut = frame_with_cuts(asked.design);
  std::vector<Message> caps;
  Job job = asked;
  job.duty = capped(asked, cut, caps);
  std::vector<Site> sites;
  std::map<double, RatedState> states = make_states(job, cut, published, sites);
  set_rows(job.duty, states, sites);
  std::vector<double> factors;
  for (const Site& site : sites)
    factors.push_back(load_factor(job.rules) *
                      (site.curve ? fatigue::thickness_factor(*site.curve, site.thickness_mm) : 1));
  std::size_t realisations = 0;
  const Sums sums = all_trips(job, states, sites, factors, method, progress, realisations);

  Rating rating{job.design.identity,
                job.duty_identity,
                job.rules,
                method == Method::time ? "time" : "spectral",
                published.sha256,
                Verdict::meets,
                "",
                {},
                {},
                {},
                {},
                loads::distance_km(job.duty.trip),
                job.duty.trip.years,
                0};
  rating.rules.load_factor = load_factor(job.rules);
  rating.rules.design_fatigue_factor = design_fatigue_factor(job.rules);
  rating.service_km = rating.trip_km * job.duty.trip.trips_per_year * rating.service_years;
  std::vector<std::vector<std::pair<SiteRating, std::size_t>>> grouped(job.design.welds.size());
  for (std::size_t i = 0; i < sites.size(); ++i) {
    const double mean = sums.factored[i], variance = std::max(0.0, sums.squares[i] - mean * mean);
    const double n = static_cast<double>(realisations);
    const double spread = n > 1 && mean > 0 ? std::sqrt(variance / (n - 1)) / mean : 0;
    grouped[sites[i].weld].emplace_back(
        rate_site(job, sites[i], mean, sums.unfactored[i], spread, sums.largest[i], factors[i]), i);
  }
  std::vector<std::size_t> welds(grouped.size());
  std::iota(welds.begin(), welds.end(), std::size_t{0});
  for (auto& group : grouped)
    std::stable_sort(group.begin(), group.end(),
                     [](const auto& a, const auto& b) { return worse_site(a.first, b.first); });
  std::stable_sort(welds.begin(), welds.end(), [&](std::size_t a, std::size_t b) {
    return worse_site(grouped[a][0].first, grouped[b][0].first);
  });
  std::vector<std::vector<std::size_t>> order;
  for (std::size_t w : welds) {
    const joints::Weld& weld = job.design.welds[w];
    WeldRating r{weld.id,
                 weld.joint,
                 weld.kind,
                 weld.node,
                 weld.member,
                 weld.chord,
                 grouped[w][0].first.verdict,
                 grouped[w][0].first.site,
                 {}};
    order.emplace_back();
    for (auto& [site, index] : grouped[w]) {
      r.sites.push_back(std::move(site));
      order.back().push_back(index);
    }
    rating.welds.push_back(std::move(r));
  }
  rating.verdict = rating.welds[0].verdict;
  rating.governing_weld = rating.welds[0].id;
  add_reasons(job, states, sites, factors, order, rating);
  add_reports(job, states, rating);
  for (const auto* list : {&caps, &job.design.assumptions, &job.assumptions})
    rating.notes.insert(rating.notes.end(), list->begin(), list->end());
  if (job.rules.load_factor <= 0)
    rating.notes.push_back({"assumption.load-factor",
                            {number("factor", rating.rules.load_factor, ""),
                             number("scatter", 100 * job.rules.load_scatter, "%")}});
  if (job.rules.design_fatigue_factor <= 0)
    rating.notes.push_back(
        {"assumption.design-fatigue-factor", {number("factor", rating.rules.design_fatigue_factor, "")}});
  return rating;
}

}  // namespace seamwright::rating
