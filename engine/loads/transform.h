// SPDX-License-Identifier: GPL-3.0-or-later
// Lines of a spectrum become histories.
#pragma once

#include <Eigen/Core>

namespace seamwright::loads {

/// Smallest 2^a 3^b 5^c that is not below: fast to transform.
Eigen::Index smooth_size(Eigen::Index least);

/// Histories z(t) = sum Re(A exp(i 2 pi f t)) from amplitudes A = real + i imaginary, row per history, column
/// per line k at k / size of the sampling rate (line 0 is left out); fills histories, rows x samples <= size.
void transform_rows(const Eigen::MatrixXd& real, const Eigen::MatrixXd& imaginary, Eigen::Index size,
                    Eigen::MatrixXd& histories);

}  // namespace seamwright::loads
