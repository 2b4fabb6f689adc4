// SPDX-License-Identifier: GPL-3.0-or-later
// Counting must keep these for any signal. Random histories: whole numbers from a small range, so that equal
// values and equal ranges abound, and the same stretched by an irrational curve, so that there are few.
#include <rapidcheck.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <sstream>

#include "tests/engine/cycles/signals.h"

using namespace seamwright;
using namespace seamwright::cycles;

namespace {

// Fixed seed: a failure repeats. RapidCheck shrinks it to the shortest history.
template <class Property>
void holds(Property&& property) {
  rc::detail::TestParams params;
  params.seed = 20;
  params.maxSuccess = 2000;
  params.maxSize = 60;
  const auto result = rc::detail::checkTestable(property, rc::detail::TestMetadata{}, params);
  std::ostringstream text;
  rc::detail::printResultMessage(result, text);
  INFO(text.str());
  CHECK(result.template is<rc::detail::SuccessResult>());
}

History any_history() {
  const auto whole = *rc::gen::container<std::vector<int>>(rc::gen::inRange(-9, 10));
  const bool curved = *rc::gen::arbitrary<bool>();
  History signal;
  for (std::size_t i = 0; i < whole.size(); ++i) {
    const double wobble = curved ? 0.01 * std::sin(static_cast<double>(i) * 1.7) : 0;
    signal.push_back(whole[i] + wobble);
  }
  return signal;
}

// Multiples of 1/8, so that tables of ranges can be compared exactly after shifting and scaling.
History exact_history() {
  const auto eighths = *rc::gen::container<std::vector<int>>(rc::gen::inRange(-40, 41));
  History signal;
  for (const int value : eighths) signal.push_back(value / 8.0);
  return signal;
}

double total_variation(const History& signal) {
  double sum = 0;
  for (std::size_t i = 1; i < signal.size(); ++i) sum += std::abs(signal[i] - signal[i - 1]);
  return sum;
}

double span_of(const History& signal) {
  if (signal.empty()) return 0;
  const auto [low, high] = std::minmax_element(signal.begin(), signal.end());
  return *high - *low;
}

double largest_range(const std::vector<Cycle>& cycles) {
  double largest = 0;
  for (const Cycle& cycle : cycles) largest = std::max(largest, cycle.range());
  return largest;
}

bool close(double a, double b) { return std::abs(a - b) <= 1e-9 * (1 + std::abs(b)); }

Table without(const Table& cycles, double gate) {
  Table kept;
  for (const auto& [range, number_of] : cycles) {
    if (range > gate) kept[range] = number_of;
  }
  return kept;
}

History changed(History signal, double factor, double offset) {
  for (double& value : signal) value = factor * value + offset;
  return signal;
}

// Lower end, upper end and count of each cycle: of equal ranges beside each other either may be the one that closes.
std::vector<std::array<double, 3>> in_order(const std::vector<Cycle>& cycles) {
  std::vector<std::array<double, 3>> all;
  for (const Cycle& c : cycles) all.push_back({std::min(c.from, c.to), std::max(c.from, c.to), c.count});
  std::sort(all.begin(), all.end());
  return all;
}

// One signal of which the block repeated for ever is made: its turning points round a ring.
History ring(const History& signal) {
  History points = turning_points(signal);
  if (points.size() < 2) return {};
  const auto top = std::max_element(points.begin(), points.end());
  std::rotate(points.begin(), top, points.end());
  points.push_back(points.front());
  return turning_points(points);
}

// Rychlik, Int. J. Fatigue 9 (1987) 119 [from memory]: a top M pairs with the higher of the two lowest points
// reached on either side before the signal climbs above M. Brute force round the ring, which ends with its
// start.
Table top_level_count(const History& closed_ring) {
  Table result;
  if (closed_ring.size() < 3) return result;
  const std::size_t n = closed_ring.size() - 1;
  const auto lowest = [&](std::size_t top, std::size_t step, bool stop_at_equal) {
    double low = closed_ring[top];
    for (std::size_t k = 1; k < n; ++k) {
      const double value = closed_ring[(top + k * step) % n];
      if (value > closed_ring[top] || (stop_at_equal && value == closed_ring[top])) break;
      low = std::min(low, value);
    }
    return low;
  };
  for (std::size_t top = 0; top < n; top += 2) {
    result[closed_ring[top] - std::max(lowest(top, 1, true), lowest(top, n - 1, false))] += 1;
  }
  return result;
}

}  // namespace

TEST_CASE("counted ranges sum to half the total variation") {
  holds([] {
    const History signal = any_history();
    RC_ASSERT(close(sum_of_powers(count(signal, Residue::half).all, 1), total_variation(signal) / 2));
    RC_ASSERT(close(sum_of_powers(count_astm(signal), 1), total_variation(signal) / 2));
  });
}

TEST_CASE("repeated ranges sum to half the variation round the ring") {
  holds([] {
    History signal = any_history();
    const double counted = sum_of_powers(count(signal, Residue::repeated).all, 1);
    if (!signal.empty()) signal.push_back(signal.front());
    RC_ASSERT(close(counted, total_variation(signal) / 2));
  });
}

TEST_CASE("largest range is maximum less minimum") {
  holds([] {
    const History signal = any_history();
    RC_ASSERT(largest_range(count(signal, Residue::half).all) == span_of(signal));
    RC_ASSERT(largest_range(count(signal, Residue::repeated).all) == span_of(signal));
    RC_ASSERT(largest_range(count_astm(signal)) == span_of(signal));
  });
}

TEST_CASE("scaling and shifting the signal scales the ranges") {
  holds([] {
    const History signal = exact_history();
    for (const Residue residue : {Residue::half, Residue::repeated}) {
      Table scaled;
      for (const auto& [range, number_of] : table(count(signal, residue).all)) scaled[4 * range] = number_of;
      RC_ASSERT(table(count(changed(signal, 4, 17), residue).all) == scaled);
    }
  });
}

TEST_CASE("negating the signal changes only directions") {
  holds([] {
    const History signal = any_history();
    for (const Residue residue : {Residue::half, Residue::repeated}) {
      const auto up = count(signal, residue).all;
      const auto down = count(changed(signal, -1, 0), residue).all;
      RC_ASSERT(up.size() == down.size());
      for (std::size_t i = 0; i < up.size(); ++i) {
        RC_ASSERT(up[i].from == -down[i].from);
        RC_ASSERT(up[i].to == -down[i].to);
      }
    }
  });
}

TEST_CASE("time may run backwards through a repeated block") {
  holds([] {
    const History signal = any_history();
    const History reversed(signal.rbegin(), signal.rend());
    RC_ASSERT(table(count(reversed, Residue::repeated).all) == table(count(signal, Residue::repeated).all));
  });
}

TEST_CASE("plateaus and points on the way change nothing") {
  holds([] {
    const History signal = any_history();
    History padded;
    for (std::size_t i = 0; i < signal.size(); ++i) {
      padded.push_back(signal[i]);
      padded.push_back(signal[i]);
      if (i + 1 < signal.size()) padded.push_back(0.5 * (signal[i] + signal[i + 1]));
    }
    RC_ASSERT(turning_points(padded) == turning_points(signal));
    RC_ASSERT(table(count(padded, Residue::half).all) == table(count(signal, Residue::half).all));
  });
}

TEST_CASE("three-point table is the four-point table with half the residue") {
  holds([] {
    const History signal = any_history();
    RC_ASSERT(table(count_astm(signal)) == table(count(signal, Residue::half).all));
  });
}

TEST_CASE("repeated count is the three-point count from the maximum on") {
  holds([] {
    const History signal = any_history();
    const auto cycles = count_astm(ring(signal));
    RC_ASSERT(table(count(signal, Residue::repeated).all) == table(cycles));
  });
}

TEST_CASE("repeated count is the top-level count") {
  holds([] {
    const History signal = any_history();
    RC_ASSERT(table(count(signal, Residue::repeated).all) == top_level_count(ring(signal)));
  });
}

TEST_CASE("gating before counting is dropping small closed loops after it") {
  holds([] {
    const History signal = any_history();
    const double gate = *rc::gen::inRange(0, 12) * 0.5;
    const Counted gated = count(signal, Residue::half, gate);
    const Counted all = count(signal, Residue::half);
    RC_ASSERT(table(gated.closed) == without(table(all.closed), gate));
    RC_ASSERT(table(count(signal, Residue::repeated, gate).all) ==
              without(table(count(signal, Residue::repeated).all), gate));
  });
}

TEST_CASE("turning points alternate by more than the gate") {
  holds([] {
    const History signal = any_history();
    const double gate = *rc::gen::inRange(0, 6) * 0.5;
    const History points = turning_points(signal, gate);
    for (std::size_t i = 1; i < points.size(); ++i) {
      RC_ASSERT(std::abs(points[i] - points[i - 1]) > gate);
      if (i >= 2) RC_ASSERT((points[i] > points[i - 1]) != (points[i - 1] > points[i - 2]));
    }
    if (!signal.empty() && gate == 0) {
      RC_ASSERT(points.front() == signal.front());
      RC_ASSERT(points.back() == signal.back());
    }
  });
}

TEST_CASE("splitting the stream changes no cycle") {
  holds([] {
    // Longer than the inner block now and then.
    History signal;
    const History piece = any_history();
    const int copies = *rc::gen::element(1, 1, 1, 50);
    for (int i = 0; i < copies; ++i) signal.insert(signal.end(), piece.begin(), piece.end());
    const double gate = *rc::gen::element(0.0, 1.5);
    Rainflow split(gate);
    std::vector<Cycle> cycles;
    for (std::size_t at = 0; at < signal.size();) {
      const std::size_t size =
          std::min(signal.size() - at, static_cast<std::size_t>(*rc::gen::inRange(1, copies > 1 ? 1500 : 7)));
      split.push({}, cycles);
      split.push(std::span<const double>(signal).subspan(at, size), cycles);
      at += size;
    }
    split.finish(Residue::half, cycles);
    const Counted whole = count(signal, Residue::half, gate);
    RC_ASSERT(split.residue() == whole.residue);
    RC_ASSERT(in_order(cycles) == in_order(whole.all));
  });
}
