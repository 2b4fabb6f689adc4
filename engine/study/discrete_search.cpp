// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/discrete_search.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <random>
#include <set>

#include "engine/evidence/evidence.h"
#include "engine/machine/parallel.h"
#include "engine/study/separable_model.h"

namespace seamwright::study {

namespace {

constexpr double nowhere = std::numeric_limits<double>::infinity();

struct Ended {
  SearchEnd end;
};

std::uint64_t number_of_seed(const std::string& seed) {
  std::uint64_t hash = 14695981039346656037u;  // FNV-1a
  for (const char c : seed) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211u;
  return hash;
}

// Trials in batches of a fixed order, so that no number of threads decides what is rated.
class Tries {
 public:
  Tries(const SearchProblem& problem, const SearchOrder& order, Trials& known, const rating::Progress& progress)
      : problem_(problem), order_(order), known_(known), progress_(progress) {}

  const Trial& trial_of(const Point& point) const { return known_.at(point); }
  const Point& best() const { return best_; }
  std::size_t count() const { return count_; }

  bool is_better(const Point& a, const Point& b) const {
    const double short_a = shortfall_of(trial_of(a)), short_b = shortfall_of(trial_of(b));
    if (short_a != short_b) return short_a < short_b;
    const double cost_a = problem_.cost(a), cost_b = problem_.cost(b);
    if (cost_a != cost_b) return cost_a < cost_b;
    if (trial_of(a).merit != trial_of(b).merit) return trial_of(a).merit < trial_of(b).merit;
    return a < b;
  }

  // Rates what is new among the points. Throws Ended.
  void rate(const std::vector<Point>& points) {
    std::vector<Point> fresh;
    for (const Point& p : points)
      if (!known_.contains(p) && std::find(fresh.begin(), fresh.end(), p) == fresh.end()) fresh.push_back(p);
    const std::size_t left = order_.most_trials - std::min(order_.most_trials, count_);
    const bool cut = fresh.size() > left;
    if (cut) fresh.resize(left);
    for (std::size_t from = 0; from < fresh.size(); from += piece) rate_piece(fresh, from, std::min(from + piece, fresh.size()));
    for (const Point& p : points)
      if (known_.contains(p)) consider(p);
    if (cut) throw Ended{SearchEnd::trials};
  }

 private:
  static constexpr std::size_t piece = 8;  // trials between two questions whether time is over

  void rate_piece(const std::vector<Point>& points, std::size_t from, std::size_t to) {
    if (progress_.stop.stop_requested()) throw Ended{SearchEnd::stopped};
    if (order_.time_over && order_.time_over()) throw Ended{SearchEnd::time};
    std::vector<Trial> trials(to - from);
    try {
      machine::over_tasks(to - from, order_.threads, [&](std::size_t i) {
        if (progress_.stop.stop_requested()) throw rating::RatingStopped{};
        trials[i] = problem_.rate(points[from + i]);
      });
    } catch (const rating::RatingStopped&) {
      throw Ended{SearchEnd::stopped};
    }
    for (std::size_t i = 0; i < trials.size(); ++i) {
      if (order_.sink) order_.sink(points[from + i], trials[i]);
      known_.emplace(points[from + i], std::move(trials[i]));
      ++count_;
      consider(points[from + i]);
    }
    if (progress_.report) progress_.report(std::min(1.0, static_cast<double>(count_) / static_cast<double>(order_.most_trials)));
  }

  void consider(const Point& p) {
    if (!best_.empty() && !is_better(p, best_)) return;
    const bool told = best_ != p && trial_of(p).possible;
    best_ = p;
    if (order_.news && told) order_.news({count_, problem_.cost(p), shortfall_of(trial_of(p)), trial_of(p).merit});
  }

  const SearchProblem& problem_;
  const SearchOrder& order_;
  Trials& known_;
  const rating::Progress& progress_;
  Point best_;
  std::size_t count_ = 0;
};

std::vector<std::uint32_t> neighbours(const SearchProblem& problem, std::size_t group, std::uint32_t option) {
  if (problem.near) return problem.near(group, option);
  std::vector<std::uint32_t> all(problem.options[group]);
  std::iota(all.begin(), all.end(), 0u);
  std::erase(all, option);
  return all;
}

bool allowed(const SearchProblem& problem, const Point& point) { return !problem.allowed || problem.allowed(point); }

std::vector<Point> single_changes(const SearchProblem& problem, const Point& at) {
  std::vector<Point> points;
  for (std::size_t g = 0; g < at.size(); ++g)
    for (const std::uint32_t o : neighbours(problem, g, at[g])) {
      Point p = at;
      p[g] = o;
      if (p != at && allowed(problem, p)) points.push_back(std::move(p));
    }
  return points;
}

// What the model does not know yet, or, when nothing else helps, all of it again from here.
void measure(const SearchProblem& problem, Tries& tries, SeparableModel& model, const Point& at, bool again) {
  std::vector<Point> points;
  for (Point& p : single_changes(problem, at)) {
    const auto g = static_cast<std::size_t>(std::mismatch(p.begin(), p.end(), at.begin()).first - p.begin());
    if (again || !model.knows(g, p[g])) points.push_back(std::move(p));
  }
  tries.rate(points);
  for (const Point& p : points) model.measured(p, tries.trial_of(p));
}

// Bold and cautious ones: the model is wrong wherever choices work on each other.
std::vector<Point> proposals(const SeparableModel& model, std::size_t groups) {
  std::vector<Point> points;
  for (const double share : {1.0, 0.85, 0.6})
    for (const std::size_t most : {groups, (groups + 2) / 3, std::size_t{2}}) points.push_back(model.proposal(share, most));
  return points;
}

// Down to where nothing is better: proposals first, then what every single change really does here, then pairs.
void settle(const SearchProblem& problem, Tries& tries, Point at) {
  SeparableModel model(problem);
  tries.rate({at});
  if (!tries.trial_of(at).possible) return;
  bool all_measured = false;
  constexpr std::size_t most_pairs = 24;
  while (true) {
    model.stand_at(at, tries.trial_of(at));
    measure(problem, tries, model, at, all_measured);
    std::vector<Point> tried = proposals(model, at.size());
    if (all_measured) {
      for (Point& p : single_changes(problem, at)) tried.push_back(std::move(p));
      for (Point& p : model.pairs(most_pairs)) tried.push_back(std::move(p));
    }
    tries.rate(tried);
    Point best = at;
    for (const Point& p : tried)
      if (tries.is_better(p, best)) best = p;
    if (best == at && all_measured) return;
    all_measured = best == at;
    at = best;
  }
}

Point kicked(const SearchProblem& problem, const Point& from, std::mt19937_64& engine) {
  constexpr int most_tries = 50;
  for (int i = 0; i < most_tries; ++i) {
    Point p = from;
    for (std::size_t k = 0; k < std::max<std::size_t>(2, from.size() / 4); ++k) {
      const std::size_t g = engine() % from.size();
      const std::vector<std::uint32_t> near = neighbours(problem, g, p[g]);
      if (!near.empty()) p[g] = near[engine() % near.size()];
    }
    if (p != from && allowed(problem, p)) return p;
  }
  return from;
}

SearchResult result_of(const SearchProblem& problem, const Tries& tries, SearchEnd end) {
  SearchResult r;
  r.end = end;
  r.trials = tries.count();
  r.best = tries.best();
  if (r.best.empty()) return r;
  r.trial = tries.trial_of(r.best);
  r.cost = problem.cost(r.best);
  r.reached = shortfall_of(r.trial) == 0;
  return r;
}

void check_choices(const SearchProblem& problem) {
  if (problem.options.empty() || std::any_of(problem.options.begin(), problem.options.end(), [](auto n) { return n == 0; }))
    throw Fault{Message{"study.no-choice", {}}};
}

}  // namespace

const char* name_of(SearchEnd end) {
  constexpr const char* names[] = {"settled", "trials", "time", "stopped"};
  return names[static_cast<std::size_t>(end)];
}

double shortfall_of(const Trial& trial) {
  if (!trial.possible) return nowhere;
  double sum = 0;
  for (const double l : logarithms_of(trial)) sum += std::max(0.0, l);
  return sum;
}

SearchResult search(const SearchProblem& problem, const Point& start, const SearchOrder& order, Trials& known,
                    const rating::Progress& progress) {
  check_choices(problem);
  Tries tries(problem, order, known, progress);
  std::mt19937_64 engine(number_of_seed(order.seed));
  SearchEnd end = SearchEnd::settled;
  try {
    settle(problem, tries, start);
    for (std::size_t k = 0; k < order.most_kicks && !tries.best().empty(); ++k) settle(problem, tries, kicked(problem, tries.best(), engine));
  } catch (const Ended& ended) {
    end = ended.end;
  }
  return result_of(problem, tries, end);
}

SearchResult search_exhaustively(const SearchProblem& problem, const SearchOrder& order, Trials& known,
                                 const rating::Progress& progress) {
  check_choices(problem);
  Tries tries(problem, order, known, progress);
  SearchEnd end = SearchEnd::settled;
  try {
    Point p(problem.options.size(), 0);
    std::vector<Point> batch;
    constexpr std::size_t at_once = 256;
    for (bool more = true; more;) {
      if (allowed(problem, p)) batch.push_back(p);
      more = false;
      for (std::size_t g = p.size(); g-- > 0 && !more;) {
        more = ++p[g] < problem.options[g];
        if (!more) p[g] = 0;
      }
      if (more && batch.size() < at_once) continue;
      tries.rate(batch);
      batch.clear();
    }
  } catch (const Ended& ended) {
    end = ended.end;
  }
  return result_of(problem, tries, end);
}

}  // namespace seamwright::study
