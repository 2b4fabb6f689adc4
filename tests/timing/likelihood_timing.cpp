// SPDX-License-Identifier: GPL-3.0-or-later
// A million samples of a safe frame of 71 places, on one core.
#include "engine/fatigue/likelihood.h"
#include "tests/timing/line.h"

#include <fmt/format.h>

#include <chrono>
#include <cmath>

using namespace seamwright::fatigue;

int main() {
  Place p;
  p.ln_stress = {-2, 0, 2};
  p.ln_damage = {std::log(0.02) - 10, std::log(0.02), std::log(0.02) + 6};
  p.curve = 0.2 * std::log(10.0);
  p.local_model = log_deviation(0.2);
  const std::vector<Place> places(71, p);
  const Scatter scatter{log_deviation(0.2), log_deviation(0.1), log_deviation(0.3)};
  const auto seconds = [](auto work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  };
  double exact = 0;
  const double quadrature = seconds([&] { exact = frame_likelihood(places, scatter).probability; });
  SimulatedChance found;
  const double simulated = seconds([&] { found = simulate(places, scatter, 1000000, 1); });
  fmt::print("likelihood: 71 places; chance {:.3g} by quadrature, {:.3g} by samples\n", exact,
             found.probability);
  seamwright::timing::aim("a million samples", simulated, "s", 1);
  seamwright::timing::beside("quadrature", 1e3 * quadrature, "ms", quadrature / simulated, "of the samples");
}
