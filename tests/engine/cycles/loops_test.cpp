// SPDX-License-Identifier: GPL-3.0-or-later
// The fast loops against the plain ones, to the last digit and with every set of instructions.
#include "engine/cycles/loops.h"

#include <algorithm>

#include "engine/loads/random.h"
#include "tests/engine/cycles/signals.h"

namespace seamwright::cycles {

namespace {

// Rounded to steps it has plateaus and equal ranges.
History noise(const std::string& seed, std::size_t size, double step) {
  loads::NamedRandom random(seed);
  History signal(size);
  for (double& value : signal) {
    value = random.normal();
    if (step > 0) value = step * std::round(value / step);
  }
  return signal;
}

// Settled points by the definition: where the next different value turns back.
History settled_plainly(const History& signal, bool& rising) {
  History points;
  for (std::size_t t = 1; t < signal.size(); ++t) {
    if (signal[t] == signal[t - 1]) continue;
    const bool up = signal[t] > signal[t - 1];
    if (up != rising) points.push_back(signal[t - 1]);
    rising = up;
  }
  return points;
}

History alternating(const History& signal) {
  History points;
  TurningPoints turning;
  turning.push(signal, points);
  turning.finish(points);
  return points;
}

std::vector<double> ranges_of(std::vector<Cycle> cycles) {
  std::vector<double> ranges;
  for (const Cycle& c : cycles) ranges.push_back(c.range());
  std::sort(ranges.begin(), ranges.end());
  return ranges;
}

struct Inner {
  std::vector<Cycle> taken;
  History left;
};
Inner inner_of(Instructions instructions, const History& points) {
  const std::size_t room = points.size() + 4;
  History left(room), from(room), to(room);
  const Taken t = take_inner(instructions, points.data(), points.size(), left.data(), from.data(), to.data());
  Inner found;
  for (std::size_t i = 0; i < t.cycles; ++i) found.taken.push_back({from[i], to[i], 1});
  left.resize(t.left);
  found.left = left;
  return found;
}

}  // namespace

TEST_CASE("four sums at once are those that are added up one by one") {
  for (const std::size_t parts : {0U, 1U, 7U, 33U})
    for (const std::size_t samples : {1U, 8U, 29U, 512U}) {
      const std::size_t stride = padded(samples) + row_step;
      const History values = noise("parts", parts * stride, 0), offsets = noise("offsets", 4, 0),
                    weights = noise("weights", 4 * parts, 0);
      for (const Instructions instructions : machine::known_instructions()) {
        History out(4 * stride, 0);
        add_up(instructions, {offsets.data(), weights.data(), parts}, values.data(), stride, samples, out.data());
        std::size_t wrong = 0;
        for (std::size_t i = 0; i < 4; ++i)
          for (std::size_t t = 0; t < samples; ++t) {
            double sum = offsets[i];
            for (std::size_t k = 0; k < parts; ++k) {
              const volatile double product = values[k * stride + t] * weights[4 * k + i];  // rounded by itself
              sum += product;
            }
            if (out[i * stride + t] != sum) ++wrong;
          }
        CHECK(wrong == 0);
      }
    }
}

TEST_CASE("points are settled where the next different value turns back") {
  for (const double step : {0.0, 1.0, 4.0})
    for (const std::size_t size : {1U, 2U, 5U, 6U, 9U, 1000U})
      for (const bool rising : {false, true}) {
        const History signal = noise("settled", size, step);
        bool direction = rising;
        const History expected = settled_plainly(signal, direction);
        for (const Instructions instructions : machine::known_instructions()) {
          History out(size + 4);
          bool last = rising;
          out.resize(settle(instructions, signal.data(), size, last, out.data()));
          CHECK(out == expected);
          CHECK(last == direction);
        }
      }
}

TEST_CASE("cycles that are taken out first are those that the whole signal has") {
  for (const double step : {0.0, 0.5, 2.0})
    for (const std::size_t size : {1U, 3U, 4U, 5U, 9U, 10U, 11U, 12U, 700U}) {
      const History points = alternating(noise("inner", size, step));
      const Inner plain = inner_of(Instructions::baseline, points);
      if (points.size() > 100) CHECK(plain.taken.size() > points.size() / 8);
      for (const Instructions instructions : machine::known_instructions()) {
        const Inner found = inner_of(instructions, points);
        CHECK(found.left == plain.left);
        REQUIRE(found.taken.size() == plain.taken.size());
        for (std::size_t i = 0; i < found.taken.size(); ++i) {
          CHECK(found.taken[i].from == plain.taken[i].from);
          CHECK(found.taken[i].to == plain.taken[i].to);
        }
      }
      // By the three-point rule, which takes nothing out beforehand: the same cycles but for the residue.
      std::vector<Cycle> rest = plain.taken;
      for (const Cycle& c : count_astm(plain.left)) rest.push_back(c);
      CHECK(ranges_of(rest) == ranges_of(count_astm(points)));
    }
}

}  // namespace seamwright::cycles
