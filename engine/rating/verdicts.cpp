// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/verdicts.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/rules/safety.h"

namespace seamwright::rating {

namespace {

SiteRating uncovered(SiteRating r) {
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  r.damage = r.damage_unfactored = r.life_years = r.life_km = nan;
  r.life_years_unfactored = r.life_km_unfactored = r.life_km_predicted = nan;
  r.coverage = Coverage::none;
  r.verdict = Verdict::not_covered;
  return r;
}

// The damage of shear at the same point joined to that of direct stress, in the set's own way.
void join_shear(const Job& job, const Service& service, const Damage& damage, std::size_t beside,
                const rules::Safety& safety, SiteRating& r) {
  const auto i = static_cast<Eigen::Index>(beside);
  if (!service.sites[beside].curve) return;
  const double shear = damage.per_year[i] * job.duty.years * safety.design_fatigue_factor,
               bare = damage.per_year_unfactored[i] * job.duty.years, largest = damage.largest_range_mpa[i];
  const rules::RuleSet& set = *job.rules.set;
  r.damage = set.joined_damage({r.damage, shear, r.largest_range_mpa, largest, safety.damage_limit});
  r.damage_unfactored = set.joined_damage({r.damage_unfactored, bare, r.largest_range_mpa, largest, 1});
}

bool rejected(const joints::Weld& weld) {
  return std::any_of(weld.flaws.begin(), weld.flaws.end(), [](const auto& f) { return f.rejects; });
}

// Nothing is left of the life of a weld that was rejected until it is repaired.
void reject(SiteRating& r) {
  r.damage = r.damage_unfactored = std::numeric_limits<double>::infinity();
  r.life_years = r.life_km = r.life_years_unfactored = r.life_km_unfactored = r.life_km_predicted = 0;
  r.verdict = Verdict::falls_short;
  r.evidence.value = r.damage;
}

SiteRating rate_site(const Job& job, Service& service, const Damage& damage, std::size_t index) {
  sites::Site& site = service.sites[index];
  const auto i = static_cast<Eigen::Index>(index);
  const rules::Safety safety = rules::safety_of(job.rules);
  const double dff = safety.design_fatigue_factor;
  const double per_year = damage.per_year[i], years = job.duty.years;
  SiteRating r;
  r.site = name_of(site);
  r.kind = site.kind.name;
  r.angle_deg = site.angle_deg;
  r.evidence.figure = "damage";
  r.evidence.coverage = site.evidence.coverage;
  const Coverage site_coverage = site.evidence.coverage;
  const bool from_memory = site.evidence.from_memory;
  r.evidence.because.reserve(2);
  r.evidence.because.push_back(std::move(site.evidence));
  if (!site.curve) return uncovered(std::move(r));
  r.curve = site.curve->id;
  r.largest_range_mpa = damage.largest_range_mpa[i];
  r.damage = per_year * years * dff;
  r.damage_unfactored = damage.per_year_unfactored[i] * years;
  if (site.beside != std::string::npos) join_shear(job, service, damage, site.beside, safety, r);
  r.life_years = years * safety.damage_limit / r.damage;
  r.life_years_unfactored = years / r.damage_unfactored;
  r.life_km = r.life_years * loads::km_per_year(job.duty);
  r.life_km_unfactored = r.life_years_unfactored * loads::km_per_year(job.duty);
  r.life_km_predicted = r.life_km_unfactored * job.rules.miner_median * std::exp(job.rules.set->below_mean * curve_deviation(job.rules, *site.curve));
  r.damage_spread = damage.half_width[i];
  fatigue::LifeResult life = fatigue::sn_life(
      *site.curve, std::max(r.largest_range_mpa, 1e-9) * service.factors[index] / fatigue::thickness_factor(*site.curve, site.thickness_mm), site.thickness_mm);
  r.coverage = worse_coverage(site_coverage, life.evidence.coverage);
  r.at_least = site.at_least;
  r.verdict = r.damage <= safety.damage_limit ? (site.at_least ? Verdict::not_covered : Verdict::meets)
                                              : Verdict::falls_short;
  r.evidence.value = r.damage;
  r.evidence.source = site.curve->source;
  r.evidence.from_memory = site.curve->from_memory || from_memory;
  r.evidence.coverage = r.coverage;
  r.evidence.inputs = {{"damage_per_year", per_year, ""},
                       {"years", years, ""},
                       {"design_fatigue_factor", dff, ""},
                       {"partial_factor", safety.partial_factor, ""},
                       {"damage_limit", safety.damage_limit, ""},
                       {"load_factor", safety.load_factor, ""},
                       {"largest_range", r.largest_range_mpa, "MPa"}};
  r.evidence.because.push_back(std::move(life.evidence));
  return r;
}

// What falls short, what has no number, the rest; each the most damaged first.
bool worse_site(const SiteRating& a, const SiteRating& b) {
  const auto rank = [](const SiteRating& s) {
    if (s.verdict == Verdict::falls_short) return 0;
    return std::isnan(s.damage) ? 1 : 2;
  };
  if (rank(a) != rank(b)) return rank(a) < rank(b);
  return a.damage > b.damage;
}

using Group = std::vector<std::pair<SiteRating, std::size_t>>;  // the sites of one weld, and their places

// The worst of each kind, in the order in which the kinds come.
std::vector<SiteRating> worst_of_kinds(std::vector<SiteRating> all) {
  std::vector<SiteRating> worst;
  for (SiteRating& s : all) {
    const auto known = std::find_if(worst.begin(), worst.end(), [&](const SiteRating& w) { return w.kind == s.kind; });
    if (known == worst.end())
      worst.push_back(std::move(s));
    else if (worse_site(s, *known))
      *known = std::move(s);
  }
  return worst;
}

WeldRating rate_weld(const design::Subject& subject, bool rejected, Group& of_weld) {
  WeldRating r;
  r.id = subject.id;
  r.joint = subject.joint;
  r.kind = subject.kind;
  r.node = subject.node;
  r.member = subject.member;
  r.chord = subject.chord;
  r.rejected = rejected;
  if (rejected)
    for (auto& [site, place] : of_weld) reject(site);
  std::stable_sort(of_weld.begin(), of_weld.end(),
                   [](const auto& a, const auto& b) { return worse_site(a.first, b.first); });
  for (auto& [site, place] : of_weld) {
    r.verdict = std::max(r.verdict, site.verdict);
    r.at_most = r.at_most || (!rejected && (site.at_least || site.curve.empty()));
    r.sites.push_back(std::move(site));
  }
  r.governing_site = r.sites[0].site;
  return r;
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

Verdicts verdicts_of(const Job& job, Service& service, const Damage& damage) {
  std::vector<Group> grouped(design::subject_count(job.design));
  std::vector<std::vector<SiteRating>> checks(grouped.size());
  for (std::size_t i = 0; i < service.sites.size(); ++i) {
    const sites::Site& site = service.sites[i];
    if (!site.aside)
      grouped[site.weld].emplace_back(rate_site(job, service, damage, i), i);
    else if (!site.kind.shear)
      checks[site.weld].push_back(rate_site(job, service, damage, i));
  }
  std::vector<std::pair<WeldRating, std::size_t>> welds;
  for (std::size_t w = 0; w < grouped.size(); ++w) {
    const design::Subject subject = design::subject_of(job.design, w);
    if (grouped[w].empty()) throw Fault{Message{"rating.no-site", {text("weld", subject.id)}}};
    welds.emplace_back(
        rate_weld(subject, w < job.design.welds.size() && rejected(job.design.welds[w]), grouped[w]), w);
    if (!welds.back().first.rejected) welds.back().first.checks = worst_of_kinds(std::move(checks[w]));
  }
  std::stable_sort(welds.begin(), welds.end(), [&](const auto& a, const auto& b) {
    if (a.first.verdict != b.first.verdict) return a.first.verdict > b.first.verdict;
    return worse_site(a.first.sites[0], b.first.sites[0]);
  });
  Verdicts verdicts;
  for (auto& [weld, w] : welds) {
    verdicts.places.emplace_back();
    for (const auto& [site, place] : grouped[w]) verdicts.places.back().push_back(place);
    verdicts.welds.push_back(std::move(weld));
  }
  return verdicts;
}

}  // namespace seamwright::rating
