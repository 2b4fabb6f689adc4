// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/transform.h"

#include <algorithm>
#include <complex>
#include <unsupported/Eigen/FFT>

namespace seamwright::loads {

Eigen::Index smooth_size(Eigen::Index least) {
  Eigen::Index best = 1;
  while (best < least) best *= 2;
  for (Eigen::Index five = 1; five < best; five *= 5)
    for (Eigen::Index three = five; three < best; three *= 3) {
      Eigen::Index size = three;
      while (size < least) size *= 2;
      best = std::min(best, size);
    }
  return best;
}

// Two real rows go through one complex transform.
void transform_rows(const Eigen::MatrixXd& real, const Eigen::MatrixXd& imaginary, Eigen::Index size,
                    Eigen::MatrixXd& histories) {
  Eigen::FFT<double> fft;
  fft.SetFlag(Eigen::FFT<double>::Unscaled);
  Eigen::VectorXcd spectrum(size), history(size);
  const Eigen::Index rows = histories.rows(), count = real.cols();
  for (Eigen::Index r = 0; r < rows; r += 2) {
    const bool pair = r + 1 < rows;
    spectrum.setZero();
    for (Eigen::Index k = 1; k < count; ++k) {
      const double are = real(r, k), aim = imaginary(r, k);
      const double bre = pair ? real(r + 1, k) : 0, bim = pair ? imaginary(r + 1, k) : 0;
      spectrum[k] = {(are - bim) / 2, (aim + bre) / 2};
      spectrum[size - k] = {(are + bim) / 2, (bre - aim) / 2};
    }
    fft.inv(history, spectrum);
    for (Eigen::Index i = 0; i < histories.cols(); ++i) {
      histories(r, i) = history[i].real();
      if (pair) histories(r + 1, i) = history[i].imag();
    }
  }
}

}  // namespace seamwright::loads
