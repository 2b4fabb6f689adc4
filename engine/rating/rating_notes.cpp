// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/rating/rating_notes.h"

#include "engine/rules/safety.h"

namespace seamwright::rating {

namespace {

rules::GoverningLife governing_life(const std::vector<WeldRating>& welds) {
  for (const WeldRating& w : welds)
    if (!w.sites[0].curve.empty()) return {w.id, w.sites[0].damage, w.sites[0].life_km};
  return {};
}

}  // namespace

std::vector<Message> notes_of(const Job& job, const Service& service, const Damage& damage,
                              const rules::Rules& used, const std::vector<WeldRating>& welds) {
  std::vector<Message> notes;
  for (const auto* list : {&service.notes, &job.design.assumptions, &job.assumptions})
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
  if (const Eigen::ArrayXd& more = damage.giving_over_rigid; more.size() > 0)
    notes.push_back({"rating.bracketed",
                     {number("count", static_cast<double>((more > 1 + 1e-9).count()), ""),
                      number("most", more.maxCoeff(), "")}});
  return notes;
}

}  // namespace seamwright::rating
