// SPDX-License-Identifier: GPL-3.0-or-later
// Time of counting over the time of one plain pass (a sum) over the same doubles, for white noise and for a
// smooth stress sampled at 200 Hz, and how it grows with length. Prints figures; judges nothing.
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <numbers>
#include <numeric>
#include <span>
#include <vector>

#include "engine/cycles/rainflow.h"
#include "engine/loads/random.h"
#include "tests/timing/line.h"

namespace {

using seamwright::cycles::Cycle;
using seamwright::cycles::Rainflow;
using seamwright::cycles::Residue;

constexpr double sample_rate_hz = 200;
constexpr std::size_t longest = 10'000'000;

std::vector<double> white_noise(std::size_t size) {
  seamwright::loads::NamedRandom random("timing");
  std::vector<double> signal(size);
  std::generate(signal.begin(), signal.end(), [&random] { return random.normal(); });
  return signal;
}

// Passes 5..15 Hz: a second-order band pass (bilinear transform, centre sqrt(75) Hz), run four times.
std::vector<double> smooth_noise(std::vector<double> signal) {
  const double centre_rad = 2 * std::numbers::pi * std::sqrt(75.0) / sample_rate_hz;
  const double alpha = std::sin(centre_rad) * 10 / std::sqrt(75.0) / 2;
  for (int pass = 0; pass < 4; ++pass) {
    double x1 = 0, x2 = 0, y1 = 0, y2 = 0;
    for (double& value : signal) {
      const double x = value;
      value = (alpha * (x - x2) + 2 * std::cos(centre_rad) * y1 - (1 - alpha) * y2) / (1 + alpha);
      x2 = x1;
      x1 = x;
      y2 = y1;
      y1 = value;
    }
  }
  return signal;
}

template <class Work>
double best_s(Work&& work, int repeats) {
  double best = 1e300;
  for (int i = 0; i < repeats; ++i) {
    const auto start = std::chrono::steady_clock::now();
    work();
    const std::chrono::duration<double> taken = std::chrono::steady_clock::now() - start;
    best = std::min(best, taken.count());
  }
  return best;
}

volatile double kept = 0;  // keeps results alive

double sum_s(std::span<const double> signal, int repeats) {
  return best_s([&] { kept = std::accumulate(signal.begin(), signal.end(), 0.0); }, repeats);
}

double count_s(std::span<const double> signal, double gate, int repeats) {
  return best_s(
      [&] {
        double damage = 0;
        const auto add = [&damage](const Cycle& cycle) {
          const double range = cycle.range();
          damage += cycle.count * range * range * range;
        };
        Rainflow rainflow(gate);
        rainflow.push(signal, add);
        rainflow.finish(Residue::half, add);
        kept = damage;
      },
      repeats);
}

// Slope of the least-squares line through log(time) over log(length), 1e5..1e7 samples.
double exponent(std::span<const double> signal) {
  double n = 0, sx = 0, sy = 0, sxx = 0, sxy = 0;
  for (const std::size_t length : {100'000U, 316'228U, 1'000'000U, 3'162'278U, 10'000'000U}) {
    const double x = std::log(static_cast<double>(length));
    const double y = std::log(count_s(signal.first(length), 0, 5));
    n += 1;
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
  }
  return (n * sxy - sx * sy) / (n * sxx - sx * sx);
}

void report(const char* name, const std::vector<double>& signal, double aim) {
  const double ns = 1e9 / static_cast<double>(signal.size());
  const double plain = ns * sum_s(signal, 7);
  const double counted = ns * count_s(signal, 0, 7);
  const double gated = ns * count_s(signal, 0.01, 7);
  seamwright::timing::beside(fmt::format("{}, counted", name), counted, "ns", counted / plain, "of a sum",
                             aim);
  seamwright::timing::beside(fmt::format("{}, counted with a gate of 0.01", name), gated, "ns", gated / plain,
                             "of a sum");
  seamwright::timing::beside(fmt::format("{}, sum", name), plain, "ns", exponent(signal),
                             "exponent of counting");
}

}  // namespace

int main() {
  const std::vector<double> noise = white_noise(longest);
  const std::vector<double> smooth = smooth_noise(noise);
  fmt::print("rainflow, {} samples, ns per sample\n", longest);
  report("white noise", noise, 4);
  report("smooth", smooth, 2);
  return EXIT_SUCCESS;
}
