// SPDX-License-Identifier: GPL-3.0-or-later
// A frame's answer to the road from its full equations of motion, (K + i w C - w^2 M) u = B (k + i w c) h: no
// mode is dropped and nothing is condensed. All pairs of K + s M and M are computed, which turns the sum into
// a diagonal and the few dampers; at_once() solves the same equations by elimination, to check that.
#pragma once

#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <cmath>
#include <complex>
#include <numbers>

#include "engine/loads/state.h"

namespace seamwright::loads {

class Direct {
 public:
  using Complex = std::complex<double>;

  Direct(const frame::Assembly& a, double structural_damping) : expand_(a.expand) {
    stiffness_ = expand_.transpose() * (a.stiffness * expand_);
    mass_ = expand_.transpose() * (a.mass * expand_);
    const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> pairs(mass_, stiffness_ + shift * mass_);
    shapes_ = pairs.eigenvectors();
    mu_ = pairs.eigenvalues().cwiseMax(0);
    // The stated ratio on every mode: 2 zeta omega per unit of modal mass.
    structural_ = 2 * structural_damping * (mu_.array() * (1 - shift * mu_.array()).max(0)).sqrt();
    const Eigen::MatrixXd damping = expand_.transpose() * (a.damping * expand_);
    damping_ = damping;
    const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> dampers(damping);
    const Eigen::Index count =
        (dampers.eigenvalues().array() > 1e-13 * dampers.eigenvalues().maxCoeff()).count();
    dampers_ = shapes_.transpose() * dampers.eigenvectors().rightCols(count) *
               dampers.eigenvalues().tail(count).cwiseSqrt().asDiagonal();
    contact_ = expand_.transpose() * a.tyre_radial;
    tyre_stiffness_ = 1000 * a.tyre_stiffness;
    tyre_damping_ = 1000 * a.tyre_damping;
  }

  /// Displacements per metre of road height, full x wheels; rows: a map of full displacements.
  template <typename Rows>
  Eigen::MatrixXd rows_of(const Rows& rows) const {
    return Eigen::MatrixXd(rows * expand_) * shapes_;
  }
  /// The answer is in the coordinates of rows_of().
  Eigen::MatrixXcd at(double hz) const {
    const Complex iw(0, 2 * std::numbers::pi * hz);
    const Eigen::VectorXcd inverse =
        (1.0 + mu_.array() * (iw * iw - shift) + iw * structural_.array()).inverse().matrix();
    const Eigen::MatrixXcd force = (shapes_.transpose() * contact_).cast<Complex>() * tyre(iw).asDiagonal();
    const Eigen::MatrixXcd dampers = dampers_.cast<Complex>();
    // (D + i w S S')^-1 = D^-1 - D^-1 S (1/(i w) + S' D^-1 S)^-1 S' D^-1
    const Eigen::MatrixXcd alone = inverse.asDiagonal() * force, each = inverse.asDiagonal() * dampers;
    Eigen::MatrixXcd inner = dampers.transpose() * each;
    inner.diagonal().array() += 1.0 / iw;
    return alone - each * inner.partialPivLu().solve(dampers.transpose() * alone);
  }
  /// Full displacements by elimination, without structural damping.
  Eigen::MatrixXcd at_once(double hz) const {
    const Complex iw(0, 2 * std::numbers::pi * hz);
    const Eigen::MatrixXcd whole =
        stiffness_.cast<Complex>() + iw * damping_.cast<Complex>() + iw * iw * mass_.cast<Complex>();
    const Eigen::MatrixXcd x =
        whole.partialPivLu().solve(Eigen::MatrixXcd(contact_.cast<Complex>() * tyre(iw).asDiagonal()));
    return expand_.cast<Complex>() * x;
  }

 private:
  static constexpr double shift = 10;  // (rad/s)^2, so that the free roll has a finite pair

  Eigen::VectorXcd tyre(Complex iw) const {
    return tyre_stiffness_.cast<Complex>() + iw * tyre_damping_.cast<Complex>();
  }

  frame::SparseMatrix expand_;
  Eigen::MatrixXd stiffness_, mass_, damping_, shapes_, dampers_, contact_;
  Eigen::VectorXd mu_, tyre_stiffness_, tyre_damping_;
  Eigen::ArrayXd structural_;
};

/// Nominal stress at both ends of every element in MPa, over section forces: axial with bending about local
/// y, and axial with bending about local z, at the outer fibre.
inline frame::SparseMatrix end_stresses(const frame::Assembly& a) {
  std::vector<Eigen::Triplet<double>> terms;
  Eigen::Index row = 0;
  for (std::size_t i = 0; i < a.elements.size(); ++i) {
    const frame::SectionProperties& s = a.elements[i].section;
    for (Eigen::Index end = 0; end < 2; ++end)
      for (Eigen::Index about = 0; about < 2; ++about, ++row) {
        const Eigen::Index first = 12 * static_cast<Eigen::Index>(i) + 6 * end;
        terms.emplace_back(row, first, 1 / s.area_mm2);
        terms.emplace_back(row, first + 4 + about, 1 / (about == 0 ? s.w_y_mm3 : s.w_z_mm3));
      }
  }
  frame::SparseMatrix map(row, 12 * static_cast<Eigen::Index>(a.elements.size()));
  map.setFromTriplets(terms.begin(), terms.end());
  return frame::SparseMatrix(map * frame::section_force_map(a));
}

/// Standard deviations of the rows on a road, MPa: the full equations summed over even steps of frequency.
inline Eigen::VectorXd directly(const Direct& direct, const Eigen::MatrixXd& rows,
                                const std::vector<Track>& tracks, const Road& road, const Leg& leg,
                                double highest_hz) {
  constexpr double step_hz = 0.02;
  const double speed = leg.speed_kmh / 3.6, last = std::min(highest_hz, road.max_cycles_m * speed);
  Eigen::VectorXd variance = Eigen::VectorXd::Zero(rows.rows());
  for (double f = road.min_cycles_m * speed + step_hz / 2; f < last; f += step_hz) {
    const double cycles_m = f / speed;
    Eigen::MatrixXcd heights =
        (std::sqrt(road_psd_m2_hz(road, f, speed)) * coherence_root(road, tracks, cycles_m))
            .cast<Direct::Complex>();
    for (Eigen::Index j = 0; j < heights.rows(); ++j) {
      const Track& t = tracks[static_cast<std::size_t>(j)];
      heights.row(j) *=
          std::polar(enveloping(cycles_m, t.contact_length_m), 2 * std::numbers::pi * cycles_m * t.x_m);
    }
    const Eigen::MatrixXcd answer = direct.at(f) * heights;
    variance += step_hz * ((rows * answer.real()).rowwise().squaredNorm() +
                           (rows * answer.imag()).rowwise().squaredNorm());
  }
  return variance.cwiseSqrt();
}

/// The same by a state's shapes.
inline Eigen::VectorXd by_shapes(const State& state, double structural_damping,
                                 const frame::SparseMatrix& stresses, const Road& road, const Leg& leg,
                                 double highest_hz) {
  const Transfer transfer(state, structural_damping);
  const Eigen::MatrixXd m0 = leg_moments(state, transfer, road, leg, highest_hz).m0;
  const Eigen::MatrixXd rows = stresses * state.moving.shapes;
  return (rows * m0).cwiseProduct(rows).rowwise().sum().cwiseMax(0).cwiseSqrt();
}

/// Largest difference of two sets of stresses among those that carry at least a share of the largest; how
/// many do, goes into `told`.
inline double apart(const Eigen::VectorXd& one, const Eigen::VectorXd& other, Eigen::Index& told,
                    double share = 0.01) {
  double worst = 0;
  told = 0;
  for (Eigen::Index i = 0; i < one.size(); ++i)
    if (other[i] >= share * other.maxCoeff()) {
      worst = std::max(worst, std::abs(one[i] / other[i] - 1));
      ++told;
    }
  return worst;
}

}  // namespace seamwright::loads
