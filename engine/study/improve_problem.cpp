// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/improve_problem.h"

#include <algorithm>
#include <cmath>

#include "engine/design/weld_geometry.h"
#include "engine/evidence/possible.h"
#include "engine/rating/shape_findings.h"
#include "engine/shape/clash.h"
#include "engine/strength/peak_rating.h"
#include "engine/study/variant.h"

namespace seamwright::study {

namespace {

constexpr double lost = 1e12;  // of a use: a number that the drawing has and the trial has not

// Findings are the same where kind and names are: how far two tubes lie in each other changes with them.
std::string name_of_finding(const Message& m) {
  std::string name = m.id.text();
  for (const Argument& a : m.arguments)
    if (const auto* s = std::get_if<std::string>(&a.value)) name.append(" ").append(*s);
  return name;
}

bool has_new_finding(const std::vector<Message>& found, const std::vector<Message>& before) {
  return std::any_of(found.begin(), found.end(), [&](const Message& m) {
    return std::none_of(before.begin(), before.end(), [&](const Message& b) { return name_of_finding(b) == name_of_finding(m); });
  });
}

double peak_use(const rating::Job& job, const rules::Published& published) {
  double most = std::numeric_limits<double>::quiet_NaN();
  for (const strength::PeakRating& p : strength::rate_peaks(job, published).cases) {
    most = std::fmax(most, p.use);
    for (const strength::StrengthCheck& c : p.checks) most = std::fmax(most, c.use);
  }
  return most;
}

// Damage over what the target allows, at the worst place with a number; NaN for none.
double use_of(const rating::WeldRating& w) {
  double most = std::numeric_limits<double>::quiet_NaN();
  for (const rating::SiteRating& s : w.sites)
    if (!s.curve.empty()) most = std::fmax(most, s.used());
  constexpr double just_beyond = 1.001;
  return w.verdict == rating::Verdict::falls_short ? std::fmax(most, just_beyond) : most;
}

bool is_uncovered(const rating::WeldRating& w) {
  return w.verdict == rating::Verdict::not_covered || std::any_of(w.sites.begin(), w.sites.end(), [](const auto& s) { return s.curve.empty(); });
}

}  // namespace

struct ImproveProblem::Rated {
  bool possible = false;
  rating::Job job;
  rating::BriefRating brief;
  double peak_use = std::numeric_limits<double>::quiet_NaN();
};

ImproveProblem::ImproveProblem(const rating::Job& job, const rules::Published& published, const ImproveOrder& order)
    : job_(job), published_(published), order_(order), choices_(choices_of(job.design, order.stock, order.choose)), seams_(job.design),
      quick_(job.design, choices_, order.stock, seams_) {
  if (order.aim == Aim::price && !order.stock.priced()) throw Fault{Message{"improve.no-price", {}}};
  shape_ = rating::shape_findings(job.design);
  const rating::BriefRating brief = rating::rate_briefly(job, published, rating::Method::spectral, memory_);
  for (const rating::WeldRating& w : brief.welds)
    if (is_uncovered(w)) uncovered_.push_back(w.id);
  drawn_ = figures_at(as_drawn());
}

Point ImproveProblem::as_drawn() const {
  Point p;
  for (const Choice& c : choices_.choices) p.push_back(c.drawn.value_or(static_cast<std::uint32_t>(c.count())));
  return p;
}

design::Design ImproveProblem::design_at(const Point& point) const {
  design::Design changed = job_.design;
  Choices given;
  Point options;
  for (std::size_t i = 0; i < point.size(); ++i)
    if (point[i] < choices_.choices[i].count()) {
      given.choices.push_back(choices_.choices[i]);
      options.push_back(point[i]);
    }
  apply_choices(given, options, changed);
  return changed;
}

double ImproveProblem::cost_at(const Point& point) const {
  return order_.aim == Aim::price ? quick_.price(point) : quick_.tubes_kg(point) + quick_.welds_kg(point);
}

bool ImproveProblem::allowed(const Point& point) const {
  return quick_.walls_fit(point) && (order_.most_sizes == 0 || quick_.sizes(point) <= order_.most_sizes);
}

ImproveProblem::Rated ImproveProblem::rated(const Point& point) const {
  Rated r;
  r.job = job_;
  r.job.design = design_at(point);
  try {
    shape::check_clashes(r.job.design.frame, r.job.design.welds);
    for (const joints::Weld& w : r.job.design.welds)
      check_possible("throat-wall", w.id, w.throat_mm / design::thinnest_wall_mm(r.job.design.frame, w));
    if (has_new_finding(rating::shape_findings(r.job.design), shape_)) return r;
    if (order_.prove) order_.prove(r.job.design);
    r.brief = rating::rate_briefly(r.job, published_, rating::Method::spectral, memory_);
    r.peak_use = peak_use(r.job, published_);
    r.possible = true;
  } catch (const Fault&) {  // no such frame: tubes in each other, a joint that no rule takes
  }
  return r;
}

Trial ImproveProblem::trial_at(const Point& point) const { return trial_of(rated(point)); }

Trial ImproveProblem::trial_of(const Rated& r) const {
  Trial t;
  t.possible = r.possible;
  if (!r.possible) return t;
  for (const rating::LimitStateKind kind : {rating::LimitStateKind::any_crack, rating::LimitStateKind::single_path, rating::LimitStateKind::fall}) {
    double use = 0;  // a state that the frame does not have is kept
    for (const rating::LimitState& s : r.brief.likelihood.limit_states)
      if (s.kind == kind) use = std::exp(s.target_index - s.index);  // a probability near 1 no longer tells two frames apart
    t.use.push_back(use);
  }
  t.use.push_back(r.peak_use > 0 ? r.peak_use : 0);
  for (std::size_t i = 0; i < design::subject_count(job_.design); ++i) {
    const std::string id = design::subject_of(job_.design, i).id;
    const auto w = std::find_if(r.brief.welds.begin(), r.brief.welds.end(), [&](const auto& weld) { return weld.id == id; });
    const bool known_uncovered = std::find(uncovered_.begin(), uncovered_.end(), id) != uncovered_.end();
    const double use = w == r.brief.welds.end() ? lost : use_of(*w);
    if (!known_uncovered && (w == r.brief.welds.end() || is_uncovered(*w)))
      t.use.push_back(lost);
    else
      t.use.push_back(std::isnan(use) ? 0 : use);
  }
  t.merit = 1000 * r.brief.likelihood.frame.probability;
  return t;
}

FrameFigures ImproveProblem::figures_at(const Point& point) const {
  const Rated r = rated(point);
  FrameFigures f;
  const design::Design& d = r.job.design;
  f.possible = r.possible;
  f.mass_kg = frame_mass_kg(d.frame);
  f.weld_kg = seams_.metal_kg(d);
  f.sizes = sizes_in(d);
  bool all_in_stock = order_.stock.priced();
  for (std::size_t i = 0; i < point.size(); ++i) all_in_stock = all_in_stock && point[i] < choices_.choices[i].count();
  if (all_in_stock) f.price = price_of(d, order_.stock, seams_);
  if (!r.possible) return f;
  f.cracked_of_1000 = 1000 * r.brief.likelihood.frame.probability;
  f.peak_use = r.peak_use;
  f.weld = r.brief.welds[0].id;
  for (const rating::WeldRating& w : r.brief.welds) {
    f.falling_short += w.verdict == rating::Verdict::falls_short;
    f.uncovered += is_uncovered(w);
  }
  f.shortfall = shortfall_of(trial_of(r));
  return f;
}

double ImproveProblem::cracked_by(const rules::RuleSet& set, const Point& point) const {
  rating::Job job = job_;
  job.design = design_at(point);
  rules::change_set(job.rules, set);
  try {
    if (order_.prove) order_.prove(job.design);
    return 1000 * rating::rate_briefly(job, published_, rating::Method::spectral, memory_).likelihood.frame.probability;
  } catch (const Fault&) {
    return std::numeric_limits<double>::quiet_NaN();
  }
}

SearchProblem ImproveProblem::search() const {
  SearchProblem p;
  for (const Choice& c : choices_.choices) p.options.push_back(static_cast<std::uint32_t>(c.count()));
  p.near = [this](std::size_t g, std::uint32_t o) { return near_options(choices_.choices[g], o); };
  p.cost = [this](const Point& point) { return cost_at(point); };
  p.allowed = [this](const Point& point) { return allowed(point); };
  p.rate = [this](const Point& point) { return trial_at(point); };
  return p;
}

}  // namespace seamwright::study
