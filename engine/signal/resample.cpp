// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/signal/resample.h"

#include <cmath>

#include "engine/evidence/evidence.h"

namespace seamwright::signal {

Resampler::Resampler(std::size_t channels, double rate_hz, double gap_s, Sink sink)
    : channels_(channels),
      rate_hz_(rate_hz),
      gap_s_(gap_s),
      sink_(std::move(sink)),
      before_(channels),
      now_(channels),
      counts_(channels),
      grid_(channels) {
  if (!(rate_hz > 0 && std::isfinite(rate_hz) && gap_s > 0))
    throw Fault{Message{"signal.bad-rate", {number("rate", rate_hz, "Hz")}}};
}

void Resampler::push(double time_s, std::span<const double> values) {
  if (has_now_ && time_s < now_s_)
    throw Fault{Message{"signal.unsorted", {number("time", time_s, "s"), number("before", now_s_, "s")}}};
  if (!has_now_ || time_s > now_s_) {
    settle();
    now_s_ = time_s;
    has_now_ = true;
    std::fill(now_.begin(), now_.end(), 0.0);
    std::fill(counts_.begin(), counts_.end(), 0.0);
  }
  for (std::size_t c = 0; c < channels_; ++c) {
    if (!std::isfinite(values[c])) continue;
    now_[c] += values[c];
    counts_[c] += 1;
  }
}

// The newest time is complete: means, missing values from the row before, then the grid up to it.
void Resampler::settle() {
  if (!has_now_) return;
  for (std::size_t c = 0; c < channels_; ++c)
    now_[c] = counts_[c] > 0 ? now_[c] / counts_[c] : has_before_ ? before_[c] : std::nan("");
  if (!has_before_ || now_s_ - before_s_ > gap_s_) {
    start_s_ = now_s_;
    emitted_ = 0;
    before_ = now_;
    before_s_ = now_s_;
    has_before_ = true;
  }
  emit_until(now_s_);
  before_ = now_;
  before_s_ = now_s_;
}

void Resampler::emit_until(double time_s) {
  for (;;) {
    const double at = start_s_ + static_cast<double>(emitted_) / rate_hz_;
    // A grid time that rounding puts a hair beyond the row belongs to it.
    if (at > time_s + 1e-9 * (1 + std::abs(time_s))) return;
    const double span = time_s - before_s_, part = span > 0 ? std::min(1.0, (at - before_s_) / span) : 0;
    for (std::size_t c = 0; c < channels_; ++c) grid_[c] = before_[c] + part * (now_[c] - before_[c]);
    sink_(grid_, emitted_ == 0);
    ++emitted_;
  }
}

void Resampler::finish() {
  settle();
  has_now_ = has_before_ = false;
}

}  // namespace seamwright::signal
