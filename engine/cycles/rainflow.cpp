// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/cycles/rainflow.h"

namespace seamwright::cycles {

void Rainflow::begin() {
  if (!ended_) return;
  stack_.clear();
  ended_ = false;
}

void Rainflow::push(std::span<const double> samples, std::vector<Cycle>& closed) {
  push(samples, [&closed](const Cycle& cycle) { closed.push_back(cycle); });
}

void Rainflow::finish(Residue residue, std::vector<Cycle>& closed) {
  finish(residue, [&closed](const Cycle& cycle) { closed.push_back(cycle); });
}

std::vector<Cycle> close_repeated(std::span<const double> residue, double gate) {
  std::vector<Cycle> closed;
  Rainflow twice(gate);
  const auto keep = [&closed](const Cycle& cycle) {
    if (cycle.count == 1) closed.push_back(cycle);
  };
  twice.push(residue, keep);
  twice.push(residue, keep);
  twice.finish(Residue::half, keep);
  return closed;
}

std::vector<Cycle> count_astm(std::span<const double> samples, double gate) {
  std::vector<double> points;
  TurningPoints turning(gate);
  turning.push(samples, points);
  turning.finish(points);

  std::vector<Cycle> counted;
  std::vector<double> left;
  for (const double point : points) {
    left.push_back(point);
    while (left.size() >= 3) {
      const double first = left[left.size() - 3], second = left[left.size() - 2];
      const bool closes = first < second ? point <= first : point >= first;  // X >= Y
      if (!closes) break;
      const bool holds_start = left.size() == 3;
      counted.push_back(Cycle{first, second, holds_start ? 0.5 : 1.0});
      left.resize(left.size() - 3);
      if (holds_start) left.push_back(second);
      left.push_back(point);
    }
  }
  for (std::size_t i = 1; i < left.size(); ++i) counted.push_back(Cycle{left[i - 1], left[i], 0.5});
  return counted;
}

}  // namespace seamwright::cycles
