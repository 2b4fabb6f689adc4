// SPDX-License-Identifier: GPL-3.0-or-later
// Spectrum of a stream.
#pragma once

#include <Eigen/Core>
#include <complex>
#include <span>
#include <unsupported/Eigen/FFT>
#include <vector>

namespace seamwright::signal {

/// Averaged periodograms (Welch, IEEE Trans. Audio Electroacoust. 15 (1967) 70 [from memory]): segments that
/// overlap by half, each without its mean, Hann window, one-sided density in unit2/Hz.
class Welch {
 public:
  /// segment: samples, even, 16..2^22 (Fault "signal.bad-segment").
  Welch(double rate_hz, std::size_t segment);
  void push(double value);
  /// Forgets the samples of an unfinished segment: after a gap.
  void restart();

  std::size_t segments() const { return count_; }  ///< averaged so far
  Eigen::VectorXd frequency_hz() const;            ///< segment/2 + 1 of them
  Eigen::VectorXd density() const;                 ///< zeros without a whole segment

 private:
  void add_segment();

  double rate_hz_;
  std::vector<double> window_, buffer_;
  double power_ = 0;
  Eigen::VectorXd sum_;
  std::size_t count_ = 0;
  Eigen::FFT<double> fft_;
};

/// Root of the integral of a density between two frequencies, bins counted by their middles.
double band_rms(const Eigen::VectorXd& frequency_hz, const Eigen::VectorXd& density, double from_hz,
                double to_hz);

}  // namespace seamwright::signal
