// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/rating_notes.h"

#include <algorithm>
#include <cmath>

#include "engine/rules/safety.h"
#include "engine/sites/place_kinds.h"

namespace seamwright::rating {

namespace {

rules::GoverningLife governing_life(const std::vector<WeldRating>& welds) {
  for (const WeldRating& w : welds)
    if (!w.sites[0].curve.empty()) return {w.id, w.sites[0].damage, w.sites[0].life_km};
  return {};
}

// How many roots live more than three times longer or shorter as a crack than by their class, and the one of them that lives shortest by it.
struct Apart {
  double count = 0, all = 0, by_class_km = HUGE_VAL, by_growth_km = 0;
  std::string weld;
};

Apart slits_apart(const std::vector<WeldRating>& welds) {
  constexpr double much = 3;
  Apart apart;
  for (const WeldRating& w : welds) {
    const auto slit = std::find_if(w.checks.begin(), w.checks.end(), [](const SiteRating& s) { return sites::place::slit_crack == s.kind; });
    double by_class = HUGE_VAL;
    for (const SiteRating& s : w.sites)
      if (sites::place::root == s.kind && s.life_km_unfactored < by_class) by_class = s.life_km_unfactored;
    if (slit == w.checks.end() || !std::isfinite(by_class) || !std::isfinite(slit->life_km_unfactored)) continue;
    const double ratio = std::abs(std::log(slit->life_km_unfactored / by_class));
    ++apart.all;
    if (ratio <= std::log(much)) continue;
    ++apart.count;
    if (by_class >= apart.by_class_km) continue;
    apart.weld = w.id;
    apart.by_class_km = by_class;
    apart.by_growth_km = slit->life_km_unfactored;
  }
  return apart;
}

}  // namespace

std::vector<Message> notes_of(const Job& job, const Service& service, const Damage& damage,
                              const rules::Rules& used, const std::vector<WeldRating>& welds) {
  std::vector<Message> notes;
  for (const auto* list : {&service.beyond, &service.notes, &job.design.assumptions, &job.assumptions})
    notes.insert(notes.end(), list->begin(), list->end());
  if (job.rules.load_factor <= 0)
    notes.push_back(
        {"assumption.load-factor",
         {number("factor", used.load_factor, ""), number("scatter", 100 * job.rules.load_scatter, "%")}});
  for (Message& note : job.rules.set->notes(job.rules, rules::safety_of(job.rules), governing_life(welds)))
    notes.push_back(std::move(note));
  if (job.rules.damage_limit > 0)
    notes.push_back({"rating.damage-limit-by",
                     {number("limit", job.rules.damage_limit, ""), text("who", job.rules.damage_limit_by)}});
  if (const Apart apart = slits_apart(welds); apart.count > 0)
    notes.push_back({"rating.slits-apart",
                     {number("count", apart.count, ""), number("all", apart.all, ""), text("weld", apart.weld),
                      number("class", apart.by_class_km, "km"), number("growth", apart.by_growth_km, "km")}});
  if (const Eigen::ArrayXd& more = damage.giving_over_rigid; more.size() > 0)
    notes.push_back({"rating.bracketed",
                     {number("count", static_cast<double>((more > 1 + 1e-9).count()), ""),
                      number("most", more.maxCoeff(), "")}});
  return notes;
}

}  // namespace seamwright::rating
