// SPDX-License-Identifier: GPL-3.0-or-later
// Each way to count checks the other: a Gaussian stress of one mode is simulated and counted, and its damage
// set against that from the moments of its spectrum.
#include <cmath>
#include <complex>
#include <numbers>

#include "engine/loads/random.h"
#include "tests/engine/cycles/signals.h"

using namespace seamwright;
using namespace seamwright::cycles;

namespace {

constexpr double sample_rate_hz = 200;

// One mode at 5 Hz with a tenth of critical damping, by the bilinear transform: y from white noise x.
struct Resonator {
  double w = std::tan(std::numbers::pi * 5 / sample_rate_hz);
  double zeta = 0.1;
  double scale = 1 + 2 * zeta * w + w * w;
  double b = w * w / scale;
  double a1 = 2 * (w * w - 1) / scale, a2 = (1 - 2 * zeta * w + w * w) / scale;

  std::vector<double> respond(std::size_t size) const {
    loads::NamedRandom random("one mode");
    std::vector<double> signal(size);
    double x1 = 0, x2 = 0, y1 = 0, y2 = 0;
    for (double& y : signal) {
      const double x = 100 * random.normal();
      y = b * (x + 2 * x1 + x2) - a1 * y1 - a2 * y2;
      x2 = x1;
      x1 = x;
      y2 = y1;
      y1 = y;
    }
    return signal;
  }

  Moments spectrum() const {
    Moments m;
    constexpr int lines = 20000;
    const double df = sample_rate_hz / 2 / lines;
    for (int i = 0; i < lines; ++i) {
      const double f = (i + 0.5) * df;
      const auto z = std::polar(1.0, -2 * std::numbers::pi * f / sample_rate_hz);
      const auto h = b * (1.0 + z) * (1.0 + z) / (1.0 + a1 * z + a2 * z * z);
      const double power = std::norm(h) * 1e4 * 2 / sample_rate_hz * df;
      m.m0 += power;
      m.m1 += power * f;
      m.m2 += power * f * f;
      m.m4 += power * std::pow(f, 4);
    }
    return m;
  }
};

}  // namespace

TEST_CASE("rainflow of a simulated mode agrees with its spectrum") {
  constexpr std::size_t size = 1'000'000;
  const Resonator mode;
  const Moments m = mode.spectrum();
  Rainflow rainflow;
  double ranges = 0, cubes = 0, fifths = 0;
  const auto add = [&](const Cycle& cycle) {
    const double range = cycle.range();
    ranges += cycle.count * range;
    cubes += cycle.count * std::pow(range, 3);
    fifths += cycle.count * std::pow(range, 5);
  };
  rainflow.push(mode.respond(size), add);
  rainflow.finish(Residue::half, add);

  const double duration_s = size / sample_rate_hz;
  // Half the mean total variation, whatever the bandwidth; sampling rounds the peaks off a little.
  CHECK(ranges / duration_s == Approx(std::sqrt(2 * std::numbers::pi * m.m2)).epsilon(0.01));
  for (const RangeModel model : {RangeModel::dirlik, RangeModel::tovo_benasciutti}) {
    CHECK(power_damage(m, model, 3) == Approx(cubes / duration_s).epsilon(0.05));
    CHECK(power_damage(m, model, 5) == Approx(fifths / duration_s).epsilon(0.08));
  }
  CHECK(power_damage(m, RangeModel::narrow_band, 3) > cubes / duration_s);
}
