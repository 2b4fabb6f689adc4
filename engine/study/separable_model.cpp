// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/study/separable_model.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace seamwright::study {

namespace {

constexpr double far = 60;  // of a logarithm: beyond 1e26 nothing is told apart

double excess(const std::vector<double>& logs, double allowed) {
  double sum = 0;
  for (const double l : logs) sum += std::max(0.0, l - allowed);
  return sum;
}

}  // namespace

std::vector<double> logarithms_of(const Trial& trial) {
  std::vector<double> logs;
  logs.reserve(trial.use.size());
  for (const double u : trial.use) {
    const double l = u > 0 ? std::log(u) : -far;
    logs.push_back(std::isnan(u) ? far : std::clamp(l, -far, far));
  }
  return logs;
}

SeparableModel::SeparableModel(const SearchProblem& problem) : problem_(problem) {
  for (const std::uint32_t options : problem.options) effects_.emplace_back(options);
}

void SeparableModel::stand_at(const Point& point, const Trial& trial) {
  at_ = point;
  logs_ = logarithms_of(trial);
  // A choice that nobody measured has no effect that could be told from the others': it begins a scale of its own.
  for (std::size_t g = 0; g < at_.size(); ++g)
    if (auto& effect = effects_[g][at_[g]]; !effect) {
      std::fill(effects_[g].begin(), effects_[g].end(), std::nullopt);
      effect.emplace(logs_.size(), 0.0);
    }
}

void SeparableModel::measured(const Point& point, const Trial& trial) {
  for (std::size_t g = 0; g < point.size(); ++g) {
    if (point[g] == at_[g]) continue;
    if (!trial.possible) {
      effects_[g][point[g]].reset();
      return;
    }
    const Logs logs = logarithms_of(trial);
    Logs effect = *effects_[g][at_[g]];
    for (std::size_t i = 0; i < effect.size(); ++i) effect[i] += logs[i] - logs_[i];
    effects_[g][point[g]] = std::move(effect);
    return;
  }
}

// A walk over the model from where it stands.
struct SeparableModel::Walk {
  const SeparableModel& model;
  double allowed;
  std::size_t most_changes;
  Point point = model.at_;
  Logs logs = model.logs_;
  double cost = model.problem_.cost(point), beyond = excess(logs, allowed);

  struct Step {
    Point point;
    Logs logs;
    double cost = 0, beyond = 0;
  };

  // Nothing where the model does not know the option or the point is not allowed.
  std::optional<Step> changed(const Point& from, const Logs& from_logs, std::size_t g, std::uint32_t option) const {
    const auto& now = model.effects_[g][from[g]];
    const auto& then = model.effects_[g][option];
    if (option == from[g] || !now || !then) return {};
    Step s{from, from_logs};
    s.point[g] = option;
    if (changes(s.point) > most_changes) return {};
    for (std::size_t i = 0; i < s.logs.size(); ++i) s.logs[i] += (*then)[i] - (*now)[i];
    s.beyond = excess(s.logs, allowed);
    s.cost = model.problem_.cost(s.point);
    return s;
  }

  bool permitted(const Step& s) const { return !model.problem_.allowed || model.problem_.allowed(s.point); }

  std::size_t changes(const Point& p) const {
    std::size_t count = 0;
    for (std::size_t g = 0; g < p.size(); ++g) count += p[g] != model.at_[g];
    return count;
  }

  void go(Step s) {
    point = std::move(s.point);
    logs = std::move(s.logs);
    cost = s.cost;
    beyond = s.beyond;
  }

  template <typename Visit>
  void singles(Visit visit) const {
    for (std::size_t g = 0; g < point.size(); ++g)
      for (std::uint32_t o = 0; o < model.effects_[g].size(); ++o)
        if (auto s = changed(point, logs, g, o)) visit(std::move(*s));
  }

  // The change that gains most for what it costs.
  bool repair_once() {
    std::optional<Step> best;
    double best_ratio = 0;
    singles([&](Step s) {
      if (!(s.beyond < beyond - 1e-9)) return;
      const double dearer = s.cost - cost, gain = beyond - s.beyond;
      const double ratio = dearer > 0 ? gain / dearer : std::numeric_limits<double>::max() / 2 * std::min(1.0, gain / (1 + gain) + 1e-9);
      if ((!best || ratio > best_ratio) && permitted(s)) {
        best_ratio = ratio;
        best = std::move(s);
      }
    });
    if (best) go(std::move(*best));
    return best.has_value();
  }

  bool better(const Step& s) const { return s.cost < cost - 1e-9 && s.beyond <= std::max(beyond, 1e-12) + 1e-9; }

  // The single change, or else the pair, that saves most.
  bool lighten_once(bool with_pairs) {
    std::optional<Step> best;
    const auto keep = [&](Step s) {
      if (better(s) && (!best || s.cost < best->cost) && permitted(s)) best = std::move(s);
    };
    singles(keep);
    if (!best && with_pairs) each_pair(keep);
    if (best) go(std::move(*best));
    return best.has_value();
  }

  template <typename Visit>
  void each_pair(Visit visit) const {
    for (std::size_t g = 0; g < point.size(); ++g)
      for (std::uint32_t o = 0; o < model.effects_[g].size(); ++o) {
        const auto first = changed(point, logs, g, o);
        if (!first) continue;
        for (std::size_t h = g + 1; h < point.size(); ++h)
          for (std::uint32_t p = 0; p < model.effects_[h].size(); ++p)
            if (auto s = changed(first->point, first->logs, h, p)) visit(std::move(*s));
      }
  }
};

Point SeparableModel::proposal(double share, std::size_t most_changes) const {
  Walk walk{*this, std::log(share), most_changes};
  constexpr std::size_t most_steps = 400;
  for (std::size_t i = 0; i < most_steps && walk.beyond > 1e-9 && walk.repair_once(); ++i) {}
  for (std::size_t i = 0; i < most_steps && walk.lighten_once(true); ++i) {}
  return walk.point;
}

std::vector<Point> SeparableModel::pairs(std::size_t most) const {
  const Walk walk{*this, 0, at_.size()};
  std::vector<Walk::Step> found;
  walk.each_pair([&](Walk::Step s) {
    const bool nearer = walk.beyond > 1e-9 ? s.beyond < walk.beyond - 1e-9 : walk.better(s);
    if (nearer && walk.permitted(s)) found.push_back(std::move(s));
  });
  std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) {
    return a.beyond != b.beyond ? a.beyond < b.beyond : a.cost < b.cost;
  });
  std::vector<Point> points;
  for (std::size_t i = 0; i < std::min(most, found.size()); ++i) points.push_back(found[i].point);
  return points;
}

}  // namespace seamwright::study
