// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/rate.h"

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>

#include "engine/design/weld_geometry.h"
#include "engine/rating/explain.h"
#include "engine/rating/parts.h"
#include "engine/rating/rating_likelihood.h"
#include "engine/rating/reports.h"
#include "engine/rating/trip_count.h"
#include "engine/rules/safety.h"
#include "engine/threads/parallel.h"

namespace seamwright::rating {

namespace {

// Damage of a year, and its scatter over the realisations.
struct Sums {
  Eigen::ArrayXd factored, unfactored, squares, largest;  // per site; sums over the realisations
  std::vector<RangeBins> ranges;                          // per site; empty in the frequency domain
  std::vector<std::vector<double>> lift;                  // per trip and leg, largest
  std::size_t count = 0;

  // Half width of the 95 % interval of the mean (Student), relative.
  double half_width(Eigen::Index site) const {
    if (count < 2) return std::numeric_limits<double>::quiet_NaN();
    const double n = static_cast<double>(count), mean = factored[site] / n;
    if (!(mean > 0)) return 0;
    const double variance = std::max(0.0, squares[site] / n - mean * mean) * n / (n - 1);
    const boost::math::students_t_distribution<double> t(n - 1);
    return boost::math::quantile(t, 0.975) * std::sqrt(variance / n) / mean;
  }
  double governing_half_width() const {
    Eigen::Index site = 0;
    factored.maxCoeff(&site);
    return half_width(site);
  }
};

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
Sums counted(const Service& service, const Progress& progress) {
  const loads::Duty& duty = service.duty;
  Sums sums = no_sums(service);
  const auto all = static_cast<double>(duty.seeds.size() * duty.most_batches);
  for (std::size_t batch = 0; batch < duty.most_batches; ++batch) {
    for (const std::string& seed : duty.seeds) {
      const double from = static_cast<double>(sums.count) / all;
      const std::string name = batch == 0 ? seed : seed + "+" + std::to_string(batch);
      add_realisation(service, name, progress, from, from + 1 / all, sums);
    }
    if (sums.governing_half_width() <= duty.confidence) break;
  }
  if (progress.report) progress.report(1);
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

SiteRating uncovered(SiteRating r) {
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  r.damage = r.damage_unfactored = r.life_years = r.life_km = nan;
  r.life_years_unfactored = r.life_km_unfactored = nan;
  r.coverage = Coverage::none;
  r.verdict = Verdict::not_covered;
  return r;
}

// The damage of shear at the same point joined to that of direct stress, in the set's own way.
void join_shear(const Job& job, const Service& service, const Sums& sums, std::size_t beside,
                const rules::Safety& safety, SiteRating& r) {
  const auto i = static_cast<Eigen::Index>(beside);
  if (!service.sites[beside].curve) return;
  const double n = static_cast<double>(sums.count), years = job.duty.years;
  const double shear = sums.factored[i] / n * years * safety.design_fatigue_factor,
               bare = sums.unfactored[i] / n * years;
  const rules::RuleSet& set = *job.rules.set;
  r.damage = set.joined_damage({r.damage, shear, r.largest_range_mpa, sums.largest[i], safety.damage_limit});
  r.damage_unfactored =
      set.joined_damage({r.damage_unfactored, bare, r.largest_range_mpa, sums.largest[i], 1});
}

// The job with rigid joints as it stands and, where both are asked for, with joints that give way: two
// services that have nothing to do with each other until their damage is compared.
struct Bracketed {
  Job soft;
  std::optional<Service> rigid, giving;
};
void prepare_both(const Job& job, const rules::Published& published, double factor, Bracketed& b) {
  const bool both = job.rules.bracket_joints && !job.design.flexible_joints;
  if (both) {
    b.soft = job;
    b.soft.design.flexible_joints = true;
  }
  threads::over_tasks(both ? 2 : 1, 2, [&](std::size_t i) {
    const Job& one = i == 0 ? job : b.soft;
    const frame::Frame cut = design::frame_with_cuts(one.design);
    (i == 0 ? b.rigid : b.giving).emplace(prepare(one, cut, published, factor));
  });
}

// Each load counted alone: how much more damage giving joints do than rigid ones, at least 1 per site. Where
// the rigid frame does none the other's is not carried over: it has no measure.
Eigen::ArrayXd bracket_of(const Job& job, const Service& giving, const Parts& rigid) {
  const Parts parts = damage_in_parts(giving, job.range_model);
  const Eigen::ArrayXd before = rigid.factored.colwise().sum().transpose().array(),
                       after = parts.factored.colwise().sum().transpose().array();
  return (before > 0).select((after / before).max(1.0), 1.0);
}

void apply(const Eigen::ArrayXd& factor, Sums& sums, Parts& parts) {
  sums.factored *= factor;
  sums.unfactored *= factor;
  sums.squares *= factor.square();
  for (std::size_t i = 0; i < sums.ranges.size(); ++i) {
    RangeBins scaled;
    scaled.add(sums.ranges[i], 1);
    for (RangeBins::Bin& bin : scaled.bins) bin.damage *= factor[static_cast<Eigen::Index>(i)];
    sums.ranges[i] = scaled;
  }
  parts.factored.array().rowwise() *= factor.transpose();
  parts.unfactored.array().rowwise() *= factor.transpose();
}

void tell_bracket(const Eigen::ArrayXd& factor, Rating& rating) {
  rating.notes.push_back({"rating.bracketed",
                          {number("count", static_cast<double>((factor > 1 + 1e-9).count()), ""),
                           number("most", factor.maxCoeff(), "")}});
}

bool rejected(const joints::Weld& weld) {
  return std::any_of(weld.flaws.begin(), weld.flaws.end(), [](const auto& f) { return f.rejects; });
}

// Nothing is left of the life of a weld that was rejected until it is repaired.
void reject(SiteRating& r) {
  r.damage = r.damage_unfactored = std::numeric_limits<double>::infinity();
  r.life_years = r.life_km = r.life_years_unfactored = r.life_km_unfactored = 0;
  r.verdict = Verdict::falls_short;
  r.evidence.value = r.damage;
}

SiteRating rate_site(const Job& job, const Service& service, const Sums& sums, std::size_t index) {
  const sites::Site& site = service.sites[index];
  const auto i = static_cast<Eigen::Index>(index);
  const rules::Safety safety = rules::safety_of(job.rules);
  const double n = static_cast<double>(sums.count), dff = safety.design_fatigue_factor;
  const double per_year = sums.factored[i] / n, years = job.duty.years;
  SiteRating r;
  r.site = name_of(site);
  r.kind = site.kind;
  r.angle_deg = site.angle_deg;
  r.evidence.figure = "damage";
  r.evidence.coverage = site.evidence.coverage;
  r.evidence.because = {site.evidence};
  if (!site.curve) return uncovered(std::move(r));
  r.curve = site.curve->id;
  r.largest_range_mpa = sums.largest[i];
  r.damage = per_year * years * dff;
  r.damage_unfactored = sums.unfactored[i] / n * years;
  if (site.beside != std::string::npos) join_shear(job, service, sums, site.beside, safety, r);
  r.life_years = years * safety.damage_limit / r.damage;
  r.life_years_unfactored = years / r.damage_unfactored;
  r.life_km = r.life_years * loads::km_per_year(job.duty);
  r.life_km_unfactored = r.life_years_unfactored * loads::km_per_year(job.duty);
  r.damage_spread = sums.half_width(i);
  const fatigue::LifeResult life = fatigue::sn_life(
      *site.curve, std::max(r.largest_range_mpa, 1e-9) * service.factors[index], site.thickness_mm);
  r.coverage = worse(site.evidence.coverage, life.evidence.coverage);
  r.at_least = site.at_least;
  r.verdict = r.damage <= safety.damage_limit ? (site.at_least ? Verdict::not_covered : Verdict::meets)
                                              : Verdict::falls_short;
  r.evidence.value = r.damage;
  r.evidence.source = site.curve->source;
  r.evidence.from_memory = site.curve->from_memory || site.evidence.from_memory;
  r.evidence.coverage = r.coverage;
  r.evidence.inputs = {{"damage_per_year", per_year, ""},
                       {"years", years, ""},
                       {"design_fatigue_factor", dff, ""},
                       {"partial_factor", safety.partial_factor, ""},
                       {"damage_limit", safety.damage_limit, ""},
                       {"load_factor", safety.load_factor, ""},
                       {"largest_range", r.largest_range_mpa, "MPa"}};
  r.evidence.because.push_back(life.evidence);
  return r;
}

// Sites that fall short come first, then those without a number, then the rest; in each the most damaged
// first.
bool worse_site(const SiteRating& a, const SiteRating& b) {
  const auto rank = [](const SiteRating& s) {
    if (s.verdict == Verdict::falls_short) return 0;
    return std::isnan(s.damage) ? 1 : 2;
  };
  if (rank(a) != rank(b)) return rank(a) < rank(b);
  return a.damage > b.damage;
}

using Group = std::vector<std::pair<SiteRating, std::size_t>>;  // the sites of one weld, and their places

WeldRating rate_weld(const design::Subject& subject, bool rejected, Group& group) {
  WeldRating r;
  r.id = subject.id;
  r.joint = subject.joint;
  r.kind = subject.kind;
  r.node = subject.node;
  r.member = subject.member;
  r.chord = subject.chord;
  r.rejected = rejected;
  if (rejected)
    for (auto& [site, place] : group) reject(site);
  std::stable_sort(group.begin(), group.end(),
                   [](const auto& a, const auto& b) { return worse_site(a.first, b.first); });
  for (auto& [site, place] : group) {
    r.verdict = std::max(r.verdict, site.verdict);
    r.at_most = r.at_most || (!rejected && (site.at_least || site.curve.empty()));
    r.sites.push_back(std::move(site));
  }
  r.governing_site = r.sites[0].site;
  return r;
}

// Welds and their sites, worst first; order: the sites' places in the service. A weld without a site would be
// forgotten: that is a fault of this program.
void add_welds(const Job& job, const Service& service, const Sums& sums, Rating& rating,
               std::vector<std::vector<std::size_t>>& order) {
  std::vector<Group> grouped(design::subject_count(job.design));
  for (std::size_t i = 0; i < service.sites.size(); ++i)
    grouped[service.sites[i].weld].emplace_back(rate_site(job, service, sums, i), i);
  std::vector<std::pair<WeldRating, std::size_t>> welds;
  for (std::size_t w = 0; w < grouped.size(); ++w) {
    const design::Subject subject = design::subject_of(job.design, w);
    if (grouped[w].empty()) throw Fault{Message{"rating.no-site", {text("weld", subject.id)}}};
    welds.emplace_back(
        rate_weld(subject, w < job.design.welds.size() && rejected(job.design.welds[w]), grouped[w]), w);
  }
  std::stable_sort(welds.begin(), welds.end(), [&](const auto& a, const auto& b) {
    if (a.first.verdict != b.first.verdict) return a.first.verdict > b.first.verdict;
    return worse_site(a.first.sites[0], b.first.sites[0]);
  });
  for (auto& [weld, w] : welds) {
    order.emplace_back();
    for (const auto& [site, place] : grouped[w]) order.back().push_back(place);
    rating.welds.push_back(std::move(weld));
  }
  rating.verdict = rating.welds[0].verdict;
  rating.governing_weld = rating.welds[0].id;
}

Rating heading(const Job& job, const rules::Published& published, Method method) {
  Rating r;
  r.design = job.design.identity;
  r.duty = job.duty_identity;
  r.rules = job.rules;
  const rules::Safety safety = rules::safety_of(job.rules);
  r.rules.load_factor = safety.load_factor;
  r.rules.design_fatigue_factor = safety.design_fatigue_factor;
  r.rules.partial_factor = safety.partial_factor;
  r.rules.damage_limit = safety.damage_limit;
  r.method = method == Method::time ? "time" : "spectral";
  r.range_model = cycles::name_of(job.range_model);
  r.catalog_sha256 = published.sha256;
  r.km_per_year = loads::km_per_year(job.duty);
  r.service_years = job.duty.years;
  r.service_km = r.km_per_year * job.duty.years;
  return r;
}

rules::GoverningLife governing_life(const Rating& rating) {
  for (const WeldRating& w : rating.welds)
    if (!w.sites[0].curve.empty()) return {w.id, w.sites[0].damage, w.sites[0].life_km};
  return {};
}

void add_assumptions(const Job& job, const Service& service, Rating& rating) {
  for (const auto* list : {&service.notes, &job.design.assumptions, &job.assumptions})
    rating.notes.insert(rating.notes.end(), list->begin(), list->end());
  if (job.rules.load_factor <= 0)
    rating.notes.push_back({"assumption.load-factor",
                            {number("factor", rating.rules.load_factor, ""),
                             number("scatter", 100 * job.rules.load_scatter, "%")}});
  for (Message& note : job.rules.set->notes(job.rules, rules::safety_of(job.rules), governing_life(rating)))
    rating.notes.push_back(std::move(note));
  if (job.rules.damage_limit > 0)
    rating.notes.push_back(
        {"rating.damage-limit-by",
         {number("limit", job.rules.damage_limit, ""), text("who", job.rules.damage_limit_by)}});
}

}  // namespace

const char* name_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::meets:
      return "meets";
    case Verdict::not_covered:
      return "not_covered";
    case Verdict::falls_short:
      return "falls_short";
  }
  return "falls_short";
}

Rating rate(const Job& job, const rules::Published& published, Method method, const Progress& progress,
            const std::string& explained) {
  if (design::subject_count(job.design) == 0) throw Fault{Message{"rating.no-welds", {}}};
  const rules::Safety safety = rules::safety_of(job.rules);
  Bracketed both;
  prepare_both(job, published, safety.load_factor * safety.partial_factor, both);
  const Service& service = *both.rigid;
  Parts parts = damage_in_parts(service, job.range_model);
  Sums sums = method == Method::time ? counted(service, progress) : in_parts(service, parts);
  const bool bracketed = both.giving.has_value();
  const Eigen::ArrayXd bracket = bracketed ? bracket_of(job, *both.giving, parts) : Eigen::ArrayXd();
  if (bracketed) apply(bracket, sums, parts);

  Rating rating = heading(job, published, method);
  rating.realisations = sums.count;
  rating.confidence = sums.governing_half_width();
  std::vector<std::vector<std::size_t>> order;
  add_welds(job, service, sums, rating, order);
  add_shares(parts, order, rating);
  add_elastic(job, service, order, rating);
  add_reasons(service, parts, order, rating);
  add_detail(job.design, service, parts, job.range_model, sums.ranges, order, explained, rating);
  add_likelihood(job, service, order, rating);
  add_reports(job, service, sums.lift, rating);
  add_assumptions(job, service, rating);
  if (bracketed) tell_bracket(bracket, rating);
  return rating;
}

}  // namespace seamwright::rating
