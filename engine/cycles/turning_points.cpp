// SPDX-License-Identifier: GPL-3.0-or-later
#include <cmath>

#include "engine/cycles/rainflow.h"
#include "engine/evidence/evidence.h"

namespace seamwright::cycles {
namespace {

constexpr double too_large = 0x1p1023;

[[noreturn]] void refuse(std::span<const double> samples, std::size_t first_index) {
  std::size_t i = 0;
  while (std::abs(samples[i]) < too_large) ++i;
  const auto index = number("index", static_cast<double>(first_index + i), "");
  if (std::isfinite(samples[i])) throw Fault{Message{"cycles.too-large", {index}}};
  throw Fault{Message{"cycles.not-a-number", {index}}};
}

}  // namespace

TurningPoints::TurningPoints(double gate) : gate_(gate) {
  if (!(gate >= 0) || !std::isfinite(gate))
    throw Fault{Message{"cycles.bad-gate", {number("gate", gate, "")}}};
}

void TurningPoints::push(std::span<const double> samples, std::vector<double>& out) {
  std::array<double, room> points;
  while (!samples.empty()) {
    const auto part = samples.first(std::min(samples.size(), block));
    const std::size_t settled = settle(part, points.data());
    out.insert(out.end(), points.begin(), points.begin() + static_cast<std::ptrdiff_t>(settled));
    samples = samples.subspan(part.size());
  }
}

void TurningPoints::finish(std::vector<double>& out) {
  if (direction_ != 0) {
    out.push_back(candidate_);
  } else if (count_ > 0 && gate_ == 0) {
    out.push_back(low_);
  }
  *this = TurningPoints(gate_);
}

std::size_t TurningPoints::settle(std::span<const double> samples, double* out, Samples known) {
  if (known == Samples::unchecked && !all_below(samples, too_large)) refuse(samples, count_);
  std::size_t settled = 0;
  const std::size_t size = samples.size();
  if (direction_ == 0) {
    const std::size_t used = start(samples, out);
    samples = samples.subspan(used);
    settled = direction_ != 0 ? 1 : 0;
  }
  count_ += size;
  if (samples.empty()) return settled;
  return settled + (gate_ == 0 ? scan_all(samples, out + settled) : scan_gated(samples, out + settled));
}

// Reads samples until the signal has moved past the gate; the extreme it came from is the first point.
std::size_t TurningPoints::start(std::span<const double> samples, double* out) {
  if (samples.empty()) return 0;
  if (count_ == 0) low_ = high_ = samples[0];
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const double value = samples[i];
    if (value - low_ > gate_ || high_ - value > gate_) {
      direction_ = value - low_ > gate_ ? 1 : -1;
      *out = direction_ > 0 ? low_ : high_;
      candidate_ = value;
      return i + 1;
    }
    low_ = std::min(low_, value);
    high_ = std::max(high_, value);
  }
  return samples.size();
}

// The first sample is looked at by itself: the one before it is not beside it.
std::size_t TurningPoints::scan_all(std::span<const double> samples, double* out) {
  bool rising = direction_ > 0;
  const double first[2] = {candidate_, samples[0]};
  const std::size_t settled = cycles::settle(Instructions::baseline, first, 2, rising, out);
  const std::size_t more =
      cycles::settle(machine::best_instructions(), samples.data(), samples.size(), rising, out + settled);
  candidate_ = samples.back();
  direction_ = rising ? 1 : -1;
  return settled + more;
}

std::size_t TurningPoints::scan_gated(std::span<const double> samples, double* out) {
  std::size_t settled = 0;
  double extreme = candidate_;
  double sign = direction_;
  for (const double value : samples) {
    const double back = sign * (extreme - value);
    const bool turned = back > gate_;
    out[settled] = extreme;
    settled += turned ? 1U : 0U;
    extreme = turned || back < 0 ? value : extreme;
    sign = turned ? -sign : sign;
  }
  candidate_ = extreme;
  direction_ = sign > 0 ? 1 : -1;
  return settled;
}

}  // namespace seamwright::cycles
