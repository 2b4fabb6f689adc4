// SPDX-License-Identifier: GPL-3.0-or-later
// The way from a job to its rating, step by step. Every step is a function of what the steps before it gave.
#include "engine/rating/rate.h"

#include <algorithm>
#include <optional>

#include "engine/design/weld_geometry.h"
#include "engine/rating/leg_reports.h"
#include "engine/rating/load_question.h"
#include "engine/rating/looks.h"
#include "engine/rating/rating_likelihood.h"
#include "engine/rating/rating_notes.h"
#include "engine/rating/reasons.h"
#include "engine/rules/safety.h"
#include "engine/rating/shape_findings.h"
#include "engine/rating/site_ranges.h"
#include "engine/machine/parallel.h"

namespace seamwright::rating {

namespace {

// The service with rigid joints as it stands and, where both are asked for, with joints that give way: two
// that have nothing to do with each other until their damage is compared. Sites point into the jobs.
struct Responses {
  JointsOfJob joints;
  Job giving_job;
  std::optional<Service> rigid, giving;
};

// What a site rests on is told once, by the service as it stands.
enum class Behind { told, left_out };

struct Asked {
  const Job& job;
  const rules::Published& published;
  double factor;  // on stress ranges
  sites::Checks checks;
};

Service respond(const Asked& asked, const Job& job, const JointsOfJob& joints, Memory& memory, Behind behind) {
  const frame::Frame cut = jointed_frame(job, joints);
  std::vector<sites::Site> sites = sites_of(job, cut, asked.published, joints.modelled, asked.checks);
  if (behind == Behind::left_out)
    for (sites::Site& site : sites) site.evidence = {};
  return prepare(job, cut, std::move(sites), asked.factor, memory);
}

void respond_both(const Asked& asked, Memory& memory, Responses& responses) {
  const Job& job = asked.job;
  responses.joints = joints_of(job);
  const JointsOfJob& joints = responses.joints;
  // A joint whose model failed is rated as it is without models: rigid and giving way, the worse.
  const bool all_modelled = job.joint_models && joints.without == 0;
  const bool both = job.rules.bracket_joints && !job.design.flexible_joints && !all_modelled;
  if (both) {
    responses.giving_job = job;
    responses.giving_job.design.flexible_joints = true;
  }
  machine::over_tasks(both ? 2 : 1, 2, [&](std::size_t i) {
    if (i == 0)
      responses.rigid.emplace(respond(asked, job, joints, memory, Behind::told));
    else
      responses.giving.emplace(respond(asked, responses.giving_job, joints, memory, Behind::left_out));
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

// How many welds have models, and how many of their joints are scaled from like ones.
std::vector<Message> joint_notes(const Job& job, const JointsOfJob& joints) {
  std::size_t welds = 0, scaled = 0;
  for (const solid::ModelledJoint& j : joints.modelled) {
    welds += j.joint.welds.size();
    if (j.scaled) ++scaled;
  }
  std::vector<Message> notes{{"rating.joint-models",
                              {number("count", static_cast<double>(welds), ""), number("all", static_cast<double>(job.design.welds.size()), "")}}};
  if (scaled > 0) notes.push_back({"rating.joints-scaled", {number("count", static_cast<double>(scaled), "")}});
  notes.insert(notes.end(), joints.reasons.begin(), joints.reasons.end());
  return notes;
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

constexpr fatigue::Prediction cracked_already{{0, 0, 0, 0}, {1, 1, 1}};

// The welds with their reasons, and each with its chance of a crack.
std::vector<WeldRating> explained_welds(const Job& job, std::vector<WeldRating> welds,
                                        std::vector<std::vector<SiteReasons>> reasons,
                                        const Chances& chances, const std::vector<fatigue::Prediction>& predicted) {
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
  for (std::size_t i = 0; i < chances.likeliest.size(); ++i) {
    const LikeliestPlace& one = chances.likeliest[i];
    WeldRating& weld = welds[one.weld];
    weld.crack_probability = one.likelihood.probability;
    weld.predicted = predicted[i];
    weld.sites[one.site].evidence.because.push_back(one.likelihood.evidence);
  }
  for (std::size_t w = 0; w < welds.size(); ++w) {
    welds[w].growth = chances.growths[w];
    welds[w].missed_share = missed_share(job.rules, welds[w].growth);
  }
  for (std::size_t p = 0; p < chances.paths.size(); ++p)
    for (WeldRating& weld : welds)
      if (weld.id == job.design.welds[p].id) weld.path = chances.paths[p];
  for (WeldRating& weld : welds)
    if (weld.rejected) {  // a flaw like a crack is there already
      weld.crack_probability = 1;
      weld.predicted = cracked_already;
    }
  return welds;
}

// The job's damage and verdicts, with what they follow from. Sites point into the responses.
struct Rated {
  rules::Safety safety;
  Responses responses;
  Damage damage;
  Verdicts verdicts;
};

struct Ways {
  Method method;
  sites::Checks checks = sites::Checks::left_out;
  Progress progress{};
  CountStore* kept = nullptr;
};

void rate_sites(const Job& job, const rules::Published& published, const Ways& ways, Memory& memory, Rated& r) {
  if (design::subject_count(job.design) == 0) throw Fault{Message{"rating.no-welds", {}}};
  r.safety = rules::safety_of(job.rules);
  respond_both({job, published, r.safety.load_factor * r.safety.partial_factor, ways.checks}, memory, r.responses);
  const Service* giving = r.responses.giving ? &*r.responses.giving : nullptr;
  r.damage = damage_of(job, *r.responses.rigid, giving, ways.method, ways.progress, memory, ways.kept);
  r.responses.giving.reset();
  r.verdicts = verdicts_of(job, *r.responses.rigid, r.damage);
}

}  // namespace

BriefRating rate_briefly(const Job& job, const rules::Published& published, Method method, Memory& memory, Chance chance) {
  Rated r;
  rate_sites(job, published, {method}, memory, r);
  BriefRating brief;
  brief.verdict = r.verdicts.welds[0].verdict;
  if (chance == Chance::asked_for) {
    Chances chances = chances_of(job, *r.responses.rigid, r.verdicts, memory);
    brief.verdict = chances.beyond_target() ? Verdict::falls_short : r.verdicts.welds[0].verdict;
    brief.likelihood = std::move(chances.frame);
  }
  if (!shape_findings(job.design).empty()) brief.verdict = std::max(brief.verdict, Verdict::not_covered);
  brief.welds = std::move(r.verdicts.welds);
  return brief;
}

namespace {

RiderBound rider_bound(const Job& job, const rules::Published& published, Memory& memory) {
  RiderBound bound;
  bound.frequency_hz = job.duty.rider.lateral_frequency_hz;
  if (bound.frequency_hz == 0) return bound;
  Job rigid = job;
  rigid.duty.rider.lateral_frequency_hz = rigid.duty.rider.lateral_damping = 0;
  const BriefRating brief = rate_briefly(rigid, published, Method::spectral, memory);
  bound.verdict = brief.verdict;
  bound.weld = brief.welds[0].id;
  bound.life_km = brief.welds[0].sites[0].life_km_predicted;
  return bound;
}

std::vector<design::UnweldedEnd> ends_held_by_others(const design::Design& design) {
  std::vector<design::UnweldedEnd> ends;
  for (const design::UnweldedEnd& end : design.unwelded_ends)
    if (!end.because.empty()) ends.push_back(end);
  return ends;
}

}  // namespace

namespace {

std::vector<SiteRanges> ranges_of(const Job& job, const Rated& r) {
  std::vector<SiteRanges> all;
  for (std::size_t w = 0; w < r.verdicts.welds.size(); ++w)
    for (std::size_t s = 0; s < r.verdicts.welds[w].sites.size(); ++s)
      all.push_back({r.verdicts.welds[w].id, r.verdicts.welds[w].sites[s].site,
                     ranges_at(job, *r.responses.rigid, r.damage, r.verdicts.places[w][s])});
  return all;
}

Rating rate_whole(const Job& job, const rules::Published& published, Method method, const Progress& progress,
                  const std::string& explained, Known known, std::vector<SiteRanges>* ranges) {
  Memory own;
  Rated r;
  Memory& memory = known.memory ? *known.memory : own;
  rate_sites(job, published, {method, sites::Checks::asked_for, progress, known.counts}, memory, r);
  const Service& service = *r.responses.rigid;
  if (ranges) *ranges = ranges_of(job, r);
  Chances chances = chances_of(job, service, r.verdicts, memory);
  std::vector<std::vector<SiteReasons>> reasons = reasons_of(job, service, r.damage, r.verdicts, explained);

  Rating rating = heading(job, published, method);
  rating.rules = rules_used(job.rules, r.safety);
  rating.realisations = r.damage.realisations;
  rating.confidence = r.damage.confidence;
  rating.parts = r.damage.parts.parts;
  rating.verdict = chances.beyond_target() ? Verdict::falls_short : r.verdicts.welds[0].verdict;
  rating.shape = shape_findings(job.design);
  if (!rating.shape.empty()) rating.verdict = std::max(rating.verdict, Verdict::not_covered);
  rating.governing_weld = r.verdicts.welds[0].id;
  rating.beyond = service.beyond;
  rating.notes = notes_of(job, service, r.damage, rating.rules, r.verdicts.welds);
  if (job.joint_models) {
    const std::vector<Message> notes = joint_notes(job, r.responses.joints);
    rating.notes.insert(rating.notes.begin(), notes.begin(), notes.end());
  }
  rating.legs = leg_reports(job.design, service, r.damage.lift_share);
  rating.states = state_reports(service);
  fatigue::FramePrediction predicted = prediction_of(job, chances);
  rating.welds = explained_welds(job, std::move(r.verdicts.welds), std::move(reasons), chances, predicted.places);
  const bool rejected = std::any_of(rating.welds.begin(), rating.welds.end(), [](const WeldRating& w) { return w.rejected; });
  rating.predicted = rejected ? cracked_already : predicted.frame;
  rating.likelihood = std::move(chances.frame);
  if (!chances.likeliest.empty() && chances.likeliest[0].weld == 0)
    rating.loads = load_question_of(job, rating, chances.likeliest[0].place);
  rating.rider = rider_bound(job, published, memory);
  rating.unwelded_ends = ends_held_by_others(job.design);
  return rating;
}

}  // namespace

Rating rate(const Job& job, const rules::Published& published, Method method, const Progress& progress,
            const std::string& explained, Known known) {
  return rate_whole(job, published, method, progress, explained, known, nullptr);
}

RatingWithRanges rate_with_ranges(const Job& job, const rules::Published& published, Method method, const Progress& progress,
                                  const std::string& explained, Known known) {
  RatingWithRanges both;
  static_cast<Rating&>(both) = rate_whole(job, published, method, progress, explained, known, &both.ranges);
  return both;
}

}  // namespace seamwright::rating
