// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/signal/welch.h"

#include <cmath>
#include <numbers>

#include "engine/evidence/evidence.h"

namespace seamwright::signal {

Welch::Welch(double rate_hz, std::size_t segment) : rate_hz_(rate_hz) {
  if (segment < 16 || segment > (1U << 22) || segment % 2 != 0)
    throw Fault{Message{"signal.bad-segment", {number("segment", static_cast<double>(segment), "")}}};
  for (std::size_t i = 0; i < segment; ++i) {
    const double w =
        0.5 - 0.5 * std::cos(2 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(segment));
    window_.push_back(w);
    power_ += w * w;
  }
  sum_ = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(segment / 2 + 1));
}

void Welch::push(double value) {
  buffer_.push_back(value);
  if (buffer_.size() < window_.size()) return;
  add_segment();
  buffer_.erase(buffer_.begin(), buffer_.begin() + static_cast<std::ptrdiff_t>(window_.size() / 2));
}

void Welch::restart() { buffer_.clear(); }

void Welch::add_segment() {
  double mean = 0;
  for (const double x : buffer_) mean += x / static_cast<double>(buffer_.size());
  std::vector<double> windowed(buffer_.size());
  for (std::size_t i = 0; i < buffer_.size(); ++i) windowed[i] = window_[i] * (buffer_[i] - mean);
  std::vector<std::complex<double>> lines;
  fft_.fwd(lines, windowed);
  for (Eigen::Index k = 0; k < sum_.size(); ++k) {
    const bool alone = k == 0 || k == sum_.size() - 1;
    sum_[k] += (alone ? 1 : 2) * std::norm(lines[static_cast<std::size_t>(k)]) / (rate_hz_ * power_);
  }
  ++count_;
}

Eigen::VectorXd Welch::frequency_hz() const {
  return Eigen::VectorXd::LinSpaced(sum_.size(), 0, rate_hz_ / 2);
}

Eigen::VectorXd Welch::density() const {
  if (count_ == 0) return sum_;
  return sum_ / static_cast<double>(count_);
}

double band_rms(const Eigen::VectorXd& f, const Eigen::VectorXd& density, double from_hz, double to_hz) {
  if (f.size() < 2) return 0;
  double sum = 0;
  for (Eigen::Index i = 0; i < f.size(); ++i)
    if (f[i] >= from_hz && f[i] < to_hz) sum += density[i] * (f[1] - f[0]);
  return std::sqrt(sum);
}

}  // namespace seamwright::signal
