// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/improve.h"

#include <algorithm>
#include <cmath>

#include "engine/machine/parallel.h"
#include "engine/study/improve_problem.h"

namespace seamwright::study {

namespace {

// Frames that crack less often cost more: the search goes on with the target index of any crack higher by these.
constexpr double stricter[] = {0.4, 0.8};

Trials with_stricter(const Trials& known, double times) {
  Trials all = known;
  for (auto& [point, trial] : all)
    if (trial.possible) trial.use[0] *= times;
  return all;
}

// The same search for a lower chance of any crack; what it tries is known to all.
void search_stricter(const SearchProblem& problem, const Point& start, SearchOrder order, double by, Trials& known,
                     const rating::Progress& progress) {
  const double times = std::exp(by);
  Trials own = with_stricter(known, times);
  SearchProblem changed = problem;
  changed.rate = [&](const Point& p) {
    Trial t = problem.rate(p);
    if (t.possible) t.use[0] *= times;
    return t;
  };
  order.most_kicks = 0;
  order.news = {};
  order.sink = [&known, times, sink = order.sink](const Point& p, Trial t) {
    if (t.possible) t.use[0] /= times;
    if (sink) sink(p, t);
    known.emplace(p, std::move(t));
  };
  search(changed, start, order, own, progress);
}

// A journal may bring anything: only points and uses of this problem are taken.
void drop_foreign(const SearchProblem& problem, std::size_t uses, Trials& known) {
  std::erase_if(known, [&](const auto& one) {
    const Point& p = one.first;
    bool ours = p.size() == problem.options.size() && (!one.second.possible || one.second.use.size() == uses);
    for (std::size_t i = 0; ours && i < p.size(); ++i) ours = p[i] < problem.options[i];
    return !ours;
  });
}

std::vector<FrontPoint> points_of(const SearchProblem& problem, const Trials& known, bool reached) {
  std::vector<FrontPoint> points;
  for (const auto& [point, trial] : known) {
    if (!trial.possible || (reached && shortfall_of(trial) > 0)) continue;
    points.push_back({point, problem.cost(point), reached ? trial.merit : shortfall_of(trial)});
  }
  return points;
}

std::vector<std::string> limits_broken(const rating::Job& job, const Trial& trial) {
  std::vector<std::string> names;
  for (std::size_t i = 0; i < trial.use.size(); ++i)
    if (!(trial.use[i] <= 1)) names.push_back(i < uses_before_welds ? names_of_uses[i] : design::subject_of(job.design, i - uses_before_welds).id);
  return names;
}

ImprovedFrame frame_at(const ImproveProblem& problem, const Point& point) {
  ImprovedFrame f;
  f.point = point;
  f.design = problem.design_at(point);
  f.figures = problem.figures_at(point);
  const Point drawn = problem.as_drawn();
  for (std::size_t i = 0; i < point.size(); ++i) {
    if (point[i] == drawn[i]) continue;
    const Choice& c = problem.choices().choices[i];
    ImproveChange change{c.throat, c.tube, c.drawn_size, {}, 1, 1, {}};
    if (c.throat)
      change.multiple = c.multiples[point[i]];
    else
      change.to = c.sizes[point[i]].size;
    Point back = point;
    back[i] = drawn[i];
    change.back = problem.figures_at(back);
    f.changes.push_back(std::move(change));
  }
  return f;
}

// The gain of the answer over the design must not turn round by any set.
std::vector<OtherRules> by_other_rules(const ImproveProblem& problem, const ImprovedFrame& f) {
  std::vector<OtherRules> all;
  const bool fewer = f.figures.cracked_of_1000 <= problem.drawn().cracked_of_1000;
  for (const rules::RuleSet* set : rules::rule_sets) {
    OtherRules o{name_of(set), problem.cracked_by(*set, problem.as_drawn()), problem.cracked_by(*set, f.point), false};
    constexpr double rounding = 1.001;
    o.vanishes = fewer && !(o.after <= o.before * rounding);
    all.push_back(std::move(o));
  }
  return all;
}

void explain(const ImproveProblem& problem, const ImproveOrder& order, Improvement& all,
             const std::vector<Point>& points, const rating::Progress& progress) {
  all.answers.resize(points.size());
  machine::over_tasks(points.size(), order.search.threads, [&](std::size_t i) {
    all.answers[i] = frame_at(problem, points[i]);
    all.answers[i].other_rules = by_other_rules(problem, all.answers[i]);
    if (progress.report) progress.report(1);
  });
}

}  // namespace

std::vector<FrontPoint> front_of(std::vector<FrontPoint> points, std::size_t most) {
  std::stable_sort(points.begin(), points.end(), [](const FrontPoint& a, const FrontPoint& b) {
    return a.cost != b.cost ? a.cost < b.cost : a.other < b.other;
  });
  std::vector<FrontPoint> front;
  for (FrontPoint& p : points)
    if (front.empty() || p.other < front.back().other) front.push_back(std::move(p));
  return spread_over(std::move(front), most);
}

std::vector<FrontPoint> spread_over(std::vector<FrontPoint> front, std::size_t most) {
  if (front.size() <= most || most == 0) return front;
  std::vector<FrontPoint> spread{front.front()};
  for (std::size_t i = 1; i < most; ++i) spread.push_back(front[i * (front.size() - 1) / (most - 1)]);
  return spread;
}

Improvement improve(const rating::Job& job, const rules::Published& published, const ImproveOrder& order, Trials& known,
                    const rating::Progress& progress) {
  const ImproveProblem problem(job, published, order);
  const SearchProblem asked = problem.search();
  Improvement all;
  all.aim = order.aim;
  all.drawn = problem.drawn();
  all.choices = problem.choices();
  all.shape = problem.shape();
  drop_foreign(asked, uses_before_welds + design::subject_count(job.design), known);
  const SearchResult found = search(asked, all.choices.start(), order.search, known, progress);
  all.trials = found.trials;
  all.end = found.end;
  all.reached = found.reached;
  if (found.best.empty() || !found.trial.possible) return all;
  all.limits = limits_broken(job, found.trial);
  for (const double by : stricter)
    if (found.reached && order.answers > 1 && found.end != SearchEnd::stopped && found.end != SearchEnd::time) {
      SearchOrder less = order.search;
      less.most_trials = std::max<std::size_t>(50, order.search.most_trials / 4);
      const std::size_t before = known.size();
      search_stricter(asked, found.best, less, by, known, progress);
      all.trials += known.size() - before;
    }
  std::vector<FrontPoint> front = front_of(points_of(asked, known, all.reached), 0);
  if (!all.reached) std::reverse(front.begin(), front.end());  // the nearest first
  front = spread_over(std::move(front), order.answers);
  std::vector<Point> points;
  for (const FrontPoint& p : front) points.push_back(p.point);
  explain(problem, order, all, points, progress);
  return all;
}

}  // namespace seamwright::study
