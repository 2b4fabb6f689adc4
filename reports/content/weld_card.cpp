// SPDX-License-Identifier: GPL-3.0-or-later
#include "reports/content/weld_card.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "catalog/published/published_data.h"
#include "reports/content/evidence_blocks.h"
#include "reports/content/rating_blocks.h"

namespace seamwright::reports {

namespace {

const fatigue::Curve* curve_of(const rating::Job& job, const rating::Rating& r, const std::string& id) {
  const auto& published = published::catalog().data.curves;
  for (const fatigue::Curve& c : published)
    if (c.id == id && rules::is_curve_of(*r.rules.set, c)) return &c;
  for (const design::OwnDetail& d : job.design.own_details)
    if (d.curve.id == id) return &d.curve;
  return nullptr;
}

const Evidence* evidence_of_figure(const Evidence& e, const char* figure) {
  if (e.figure == figure) return &e;
  for (const Evidence& b : e.because)
    if (const Evidence* found = evidence_of_figure(b, figure)) return found;
  return nullptr;
}

double input(const Evidence& e, const char* name) {
  for (const Input& i : e.inputs)
    if (i.name == name) return i.value;
  return 0;
}

SnPlot plot_of(const rating::Job& job, const rating::Rating& r, const rating::SiteRating& site) {
  SnPlot plot;
  const fatigue::Curve* curve = site.curve.empty() ? nullptr : curve_of(job, r, site.curve);
  if (!curve) return plot;
  plot.curve = curve->id;
  plot.source = curve->source;
  plot.from_memory = curve->from_memory;
  // A point for each bend and both ends: straight between them on log axes.
  constexpr double from_mpa = 1000, to_mpa = 1;
  std::vector<double> ranges{from_mpa};
  for (const double knee : fatigue::knees_mpa(*curve)) ranges.push_back(knee);
  ranges.push_back(std::max(to_mpa, curve->cutoff_mpa.value_or(0) * (1 + 1e-9)));
  for (const double range : ranges) {
    const double cycles = fatigue::cycles_to_failure(*curve, range);
    if (std::isfinite(cycles)) plot.line.emplace_back(cycles, range);
  }
  if (const Evidence* cycles = evidence_of_figure(site.evidence, "cycles-by-range"))
    for (const Evidence& bin : cycles->because)
      plot.bars.push_back(
          {input(bin, "from"), input(bin, "to"), input(bin, "cycles") * r.service_years, bin.value / 100});
  return plot;
}

std::vector<Share> largest_first(const std::map<std::string, double>& sums) {
  std::vector<Share> shares;
  for (const auto& [name, share] : sums)
    if (share >= 0.005) shares.push_back({{"column.source", {cause_argument(name)}}, share});
  std::stable_sort(shares.begin(), shares.end(),
                   [](const auto& a, const auto& b) { return a.share > b.share; });
  return shares;
}

Table sites_of(const rating::WeldRating& w) {
  Table t;
  for (const MessageId id : MessageIds{"column.site", "column.curve", "column.range", "column.used",
                                       "column.predicted-km", "column.coverage", "column.verdict"})
    t.columns.push_back(message_of(id));
  for (const rating::SiteRating& s : w.sites)
    t.rows.push_back({site_cell(s.site), curve_cell(s.curve), Quantity{s.largest_range_mpa, "MPa", 3},
                      damage_cell(s.used(), s.at_least), life_cell(s.life_km_predicted, s.at_least),
                      State{name_of(s.coverage)}, State{rating::name_of(s.verdict)}});
  return t;
}

}  // namespace

double place_of_used(double used) {
  if (!(used > least_used)) return 0;
  return std::min(1.0, std::log10(used / least_used) / std::log10(most_used / least_used));
}

std::vector<Strip> strips_of(const rating::Rating& r) {
  std::vector<Strip> strips;
  for (const rating::WeldRating& w : r.welds) {
    const rating::SiteRating& s = w.sites[0];
    strips.push_back({w.id, w.member, w.chord, w.governing_site, w.verdict, s.coverage == Coverage::extended,
                      s.used(), s.life_km_predicted, w.at_most});
  }
  const auto place = [](const Strip& s) { return std::isnan(s.used) ? -1 : s.used; };
  std::stable_sort(strips.begin(), strips.end(),
                   [&](const Strip& a, const Strip& b) { return place(a) > place(b); });
  return strips;
}

WeldCard weld_card(const rating::Job& job, const rating::Rating& r, const std::string& weld) {
  const rating::WeldRating& w = rated_weld(r, weld);
  WeldCard card;
  card.id = w.id;
  card.kind = w.kind;
  card.member = w.member;
  card.chord = w.chord;
  card.joint = w.joint;
  for (const joints::Weld& drawn : job.design.welds)
    if (drawn.id == weld) card.procedure = drawn.procedure;
  card.verdict = State{rating::name_of(w.verdict)};
  card.site = w.sites[0];
  card.at_most = w.at_most;
  card.extended = card.site.coverage == Coverage::extended;
  card.service_km = r.service_km;
  card.used = card.site.used();
  card.predicted = w.predicted;
  card.path = w.path;
  std::map<std::string, double> legs, causes;
  for (std::size_t i = 0; i < r.parts.size() && i < card.site.damage_share.size(); ++i) {
    (r.parts[i].leg.empty() ? legs[r.parts[i].source] : legs[r.parts[i].leg]) += card.site.damage_share[i];
    causes[r.parts[i].source] += card.site.damage_share[i];
  }
  card.by_leg = largest_first(legs);
  card.by_cause = largest_first(causes);
  card.plot = plot_of(job, r, card.site);
  card.sites = sites_of(w);
  for (const Share& s : card.by_leg)
    card.reasons.reasons.push_back(
        {{"card.leg-share", {s.label.arguments[0], number("share", 100 * s.share, "%")}}, {}});
  std::vector<std::string> kinds;
  for (const rating::SiteRating& site : w.sites) {
    if (std::find(kinds.begin(), kinds.end(), site.kind) != kinds.end()) continue;
    kinds.push_back(site.kind);
    card.reasons.reasons.push_back(
        {{"explain.site",
          {site_argument("site", site.site), curve_argument(site.curve), number("damage", site.damage, ""),
           number("life", site.life_km, "km"), number("range", site.largest_range_mpa, "MPa")}},
         {reason_of(site.evidence)}});
  }
  return card;
}

}  // namespace seamwright::reports
