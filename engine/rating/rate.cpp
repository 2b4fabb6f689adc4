// SPDX-License-Identifier: GPL-3.0-or-later
// The way from a job to its rating, step by step. Every step is a function of what the steps before it gave.
#include "engine/rating/rate.h"

#include <algorithm>
#include <optional>

#include "engine/design/weld_geometry.h"
#include "engine/rating/leg_reports.h"
#include "engine/rating/rating_likelihood.h"
#include "engine/rating/rating_notes.h"
#include "engine/rating/reasons.h"
#include "engine/rules/safety.h"
#include "engine/shape/checks.h"
#include "engine/machine/parallel.h"

namespace seamwright::rating {

namespace {

// The service with rigid joints as it stands and, where both are asked for, with joints that give way: two
// that have nothing to do with each other until their damage is compared. Sites point into the jobs.
struct Responses {
  Job giving_job;
  std::optional<Service> rigid, giving;
};

Service respond(const Job& job, const rules::Published& published, double factor) {
  const frame::Frame cut = design::frame_with_cuts(job.design);
  return prepare(job, cut, sites_of(job, cut, published), factor);
}

void respond_both(const Job& job, const rules::Published& published, double factor, Responses& responses) {
  const bool both = job.rules.bracket_joints && !job.design.flexible_joints;
  if (both) {
    responses.giving_job = job;
    responses.giving_job.design.flexible_joints = true;
  }
  machine::over_tasks(both ? 2 : 1, 2, [&](std::size_t i) {
    if (i == 0)
      responses.rigid.emplace(respond(job, published, factor));
    else
      responses.giving.emplace(respond(responses.giving_job, published, factor));
  });
}

// The job's rules with the factors that the set gives where the job gives none.
rules::Rules rules_used(const rules::Rules& asked, const rules::Safety& safety) {
  rules::Rules used = asked;
  used.load_factor = safety.load_factor;
  used.design_fatigue_factor = safety.design_fatigue_factor;
  used.partial_factor = safety.partial_factor;
  used.damage_limit = safety.damage_limit;
  return used;
}

// The heading comes from the job alone.
Rating heading(const Job& job, const rules::Published& published, Method method) {
  Rating r;
  r.design = job.design.identity;
  r.duty = job.duty_identity;
  r.method = method == Method::time ? "time" : "spectral";
  r.range_model = cycles::name_of(job.range_model);
  r.catalog_sha256 = published.sha256;
  r.km_per_year = loads::km_per_year(job.duty);
  r.service_years = job.duty.years;
  r.service_km = r.km_per_year * job.duty.years;
  return r;
}

// What forbids a weld, without what a preparation mends.
std::vector<Message> shape_findings(const design::Design& design) {
  std::vector<Message> wrong;
  for (shape::WeldFinding& found : shape::weld_findings(design))
    if (!found.preparation) wrong.push_back(std::move(found.message));
  return wrong;
}

// The welds with their reasons, and each with its chance of a crack.
std::vector<WeldRating> explained_welds(std::vector<WeldRating> welds,
                                        std::vector<std::vector<SiteReasons>> reasons,
                                        const Chances& chances) {
  for (std::size_t w = 0; w < welds.size(); ++w)
    for (std::size_t k = 0; k < welds[w].sites.size(); ++k) {
      SiteRating& site = welds[w].sites[k];
      SiteReasons& why = reasons[w][k];
      site.damage_share = std::move(why.damage_share);
      site.elastic_over_quasi_static = why.elastic_over_quasi_static;
      std::vector<Evidence>& because = site.evidence.because;
      because.insert(because.begin(), why.before.begin(), why.before.end());
      because.insert(because.end(), why.behind.begin(), why.behind.end());
    }
  for (const LikeliestPlace& one : chances.likeliest) {
    welds[one.weld].crack_probability = one.likelihood.probability;
    welds[one.weld].sites[one.site].evidence.because.push_back(one.likelihood.evidence);
  }
  for (WeldRating& weld : welds)
    if (weld.rejected) weld.crack_probability = 1;  // a flaw like a crack is there already
  return welds;
}

}  // namespace

Rating rate(const Job& job, const rules::Published& published, Method method, const Progress& progress,
            const std::string& explained, CountStore* kept) {
  if (design::subject_count(job.design) == 0) throw Fault{Message{"rating.no-welds", {}}};
  const rules::Safety safety = rules::safety_of(job.rules);
  Responses responses;
  respond_both(job, published, safety.load_factor * safety.partial_factor, responses);
  const Service& service = *responses.rigid;
  const Service* giving = responses.giving ? &*responses.giving : nullptr;

  const Damage damage = damage_of(job, service, giving, method, progress, kept);
  Verdicts verdicts = verdicts_of(job, service, damage);
  Chances chances = chances_of(job, service, verdicts);
  std::vector<std::vector<SiteReasons>> reasons = reasons_of(job, service, damage, verdicts, explained);

  Rating rating = heading(job, published, method);
  rating.rules = rules_used(job.rules, safety);
  rating.realisations = damage.realisations;
  rating.confidence = damage.confidence;
  rating.parts = damage.parts.parts;
  rating.verdict = chances.beyond_target() ? Verdict::falls_short : verdicts.welds[0].verdict;
  rating.shape = shape_findings(job.design);
  if (!rating.shape.empty()) rating.verdict = std::max(rating.verdict, Verdict::not_covered);
  rating.governing_weld = verdicts.welds[0].id;
  rating.notes = notes_of(job, service, damage, rating.rules, verdicts.welds);
  rating.legs = leg_reports(job.design, service, damage.lift_share);
  rating.states = state_reports(service);
  rating.welds = explained_welds(std::move(verdicts.welds), std::move(reasons), chances);
  rating.likelihood = std::move(chances.frame);
  return rating;
}

}  // namespace seamwright::rating
