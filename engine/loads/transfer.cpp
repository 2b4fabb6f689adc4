// SPDX-License-Identifier: GPL-3.0-or-later
// The damped coordinates as a first-order system in (Omega q, dq/dt), which is well scaled and, without
// damping, skew-symmetric:
//   d/dt (Omega q) = Omega (dq/dt),  d/dt (dq/dt) = -Omega (Omega q) - D dq/dt + force.
#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

#include "engine/evidence/constants.h"
#include "engine/frame/check.h"
#include "engine/loads/state.h"

namespace seamwright::loads {
namespace {

using Complex = std::complex<double>;
using std::numbers::pi;

constexpr double most_asked_hz = 1e6;  // asked of response_at()

}  // namespace

Transfer::Transfer(const State& state, double structural_damping) {
  frame::check_number("structural_damping", "state", structural_damping, "", 0, 0.5);
  const frame::Assembly& a = state.assembly;
  const Eigen::MatrixXd& shapes = state.moving.shapes;
  omega_ = state.moving.omega_rad_s;
  damping_ = shapes.transpose() * (a.damping * shapes);
  damping_.diagonal() += 2 * structural_damping * omega_;
  contact_ = shapes.transpose() * a.tyre_radial;
  tyre_stiffness_ = a.tyre_stiffness * mm_per_m;
  tyre_damping_ = a.tyre_damping * mm_per_m;
  diagonalise();
}

void Transfer::diagonalise() {
  const Eigen::Index n = omega_.size();
  Eigen::MatrixXd system = Eigen::MatrixXd::Zero(2 * n, 2 * n);
  system.topRightCorner(n, n).diagonal() = omega_;
  system.bottomLeftCorner(n, n).diagonal() = -omega_;
  system.bottomRightCorner(n, n) = -damping_;
  const Eigen::EigenSolver<Eigen::MatrixXd> solver(system);
  const Eigen::VectorXcd values = solver.eigenvalues();
  const Eigen::MatrixXcd vectors = solver.eigenvectors();
  const Eigen::PartialPivLU<Eigen::MatrixXcd> lu(vectors);
  Eigen::MatrixXcd force = Eigen::MatrixXcd::Zero(2 * n, n);
  force.bottomRows(n).setIdentity();
  const Eigen::MatrixXcd inputs = lu.solve(force), right = inputs * contact_.cast<Complex>();
  const Eigen::MatrixXcd left = omega_.cwiseInverse().asDiagonal() * vectors.topRows(n);
  std::vector<Eigen::Index> kept;
  for (Eigen::Index i = 0; i < 2 * n; ++i)
    if (values[i].imag() >= 0) kept.push_back(i);
  const auto count = static_cast<Eigen::Index>(kept.size());
  poles_.resize(count);
  left_.resize(n, 2 * count);
  right_real_.resize(count, contact_.cols());
  right_imaginary_.resize(count, contact_.cols());
  inputs_.resize(count, n);
  for (Eigen::Index p = 0; p < count; ++p) {
    const Eigen::Index i = kept[static_cast<std::size_t>(p)];
    poles_[p] = values[i];
    // A real pole is its own partner: half of it twice.
    const double share = values[i].imag() > 0 ? 1 : 0.5;
    left_.col(p) = share * left.col(i).real();
    left_.col(count + p) = share * left.col(i).imag();
    inputs_.row(p) = inputs.row(i);
    right_real_.row(p) = right.row(i).real();
    right_imaginary_.row(p) = right.row(i).imag();
  }
  by_poles_ =
      left_.allFinite() && right_real_.allFinite() && right_imaginary_.allFinite() && poles_are_right();
}

Transfer::Poles Transfer::pole_form(const State& state) const {
  Poles f;
  const Eigen::Index count = poles_.size();
  f.pole = poles_;
  f.left.resize(omega_.size(), count);
  f.left.real() = left_.leftCols(count);
  f.left.imag() = left_.rightCols(count);
  const Eigen::MatrixXd pushes = state.moving.shapes.transpose() * state.pushes;
  f.right.resize(count, contact_.cols() + pushes.cols());
  f.right << inputs_ * contact_.cast<Complex>(), inputs_ * pushes.cast<Complex>();
  return f;
}

bool Transfer::poles_are_right() const {
  constexpr double tolerance = 1e-6;  // at the very peak of the least damped pole
  for (Eigen::Index p = 0; p < poles_.size(); ++p)
    for (const double near : {1.0, 1.02}) {
      // Motion that creeps behind a damper without inertia has a pole far beyond every frequency that is
      // asked for.
      const double hz = std::min(near * std::abs(poles_[p]) / (2 * pi), most_asked_hz);
      const Eigen::MatrixXcd direct = direct_response_at(hz);
      // A pole without any damping lies on the axis and neither form has a value there.
      if (!direct.allFinite()) continue;
      if (!((response_at(hz) - direct).norm() <= tolerance * direct.norm())) return false;
    }
  return true;
}

Eigen::MatrixXcd Transfer::response_at(double frequency_hz) const {
  if (!by_poles_) return direct_response_at(frequency_hz);
  frame::check_number("frequency", "transfer", frequency_hz, "Hz", 0, most_asked_hz);
  const Eigen::Index wheels = tyre_stiffness_.size();
  Eigen::MatrixXcd h(coordinates(), wheels);
  const Lines lines =
      respond(Eigen::MatrixXcd::Identity(wheels, wheels), Eigen::VectorXd::Constant(wheels, frequency_hz));
  h.real() = lines.real;
  h.imag() = lines.imaginary;
  return h;
}

Eigen::MatrixXcd Transfer::direct_response_at(double frequency_hz) const {
  frame::check_number("frequency", "transfer", frequency_hz, "Hz", 0, most_asked_hz);
  const double w = 2 * pi * frequency_hz;
  const Eigen::VectorXcd tyre =
      tyre_stiffness_.cast<Complex>() + Complex(0, w) * tyre_damping_.cast<Complex>();
  Eigen::MatrixXcd dynamic = Complex(0, w) * damping_.cast<Complex>();
  dynamic.diagonal().array() += omega_.array().square() - w * w;
  return dynamic.partialPivLu().solve(contact_.cast<Complex>() * tyre.asDiagonal());
}

Transfer::Lines Transfer::respond(const Eigen::Ref<const Eigen::MatrixXcd>& heights_m,
                                  const Eigen::VectorXd& frequency_hz) const {
  const Eigen::Index wheels = tyre_stiffness_.size(), lines = heights_m.cols();
  Lines out{Eigen::MatrixXd(coordinates(), lines), Eigen::MatrixXd(coordinates(), lines)};
  const Eigen::ArrayXd w = 2 * pi * frequency_hz.array();
  // Rows are lines from here on, so that the arithmetic runs along columns.
  Eigen::MatrixXd force_re(lines, wheels), force_im(lines, wheels);
  for (Eigen::Index j = 0; j < wheels; ++j) {
    const Eigen::ArrayXd re = heights_m.row(j).real().transpose(), im = heights_m.row(j).imag().transpose();
    force_re.col(j) = tyre_stiffness_[j] * re - tyre_damping_[j] * w * im;
    force_im.col(j) = tyre_stiffness_[j] * im + tyre_damping_[j] * w * re;
  }
  if (!by_poles_) {
    for (Eigen::Index k = 0; k < lines; ++k) {
      const Eigen::VectorXcd x = direct_response_at(frequency_hz[k]) * heights_m.col(k);
      out.real.col(k) = x.real();
      out.imaginary.col(k) = x.imag();
    }
    return out;
  }
  respond_by_poles(w, force_re, force_im, out);
  return out;
}

void Transfer::respond_by_poles(const Eigen::ArrayXd& w, const Eigen::MatrixXd& force_re,
                                const Eigen::MatrixXd& force_im, Lines& out) const {
  const Eigen::Index lines = w.size(), count = poles_.size();
  const Eigen::MatrixXd a_re = force_re * right_real_.transpose(), a_im = force_im * right_real_.transpose();
  const Eigen::MatrixXd b_re = force_re * right_imaginary_.transpose(),
                        b_im = force_im * right_imaginary_.transpose();
  Eigen::MatrixXd x_re(lines, 2 * count), x_im(lines, 2 * count);
  for (Eigen::Index p = 0; p < count; ++p) {
    // Let i w - pole = e and the force's share a + i b: the pair's two terms add up to
    // 2 ((a (i w - s) - b d) Re left - (a d + b (i w - s)) Im left) / ((i w - s)^2 + d^2), s + i d = pole.
    const double s = poles_[p].real(), d = poles_[p].imag();
    const Eigen::ArrayXd den_re = s * s + d * d - w.square(), den_im = -2 * s * w;
    const Eigen::ArrayXd scale = 2 / (den_re.square() + den_im.square());
    const Eigen::ArrayXd inv_re = den_re * scale, inv_im = -den_im * scale;
    const auto ar = a_re.col(p).array(), ai = a_im.col(p).array();
    const auto br = b_re.col(p).array(), bi = b_im.col(p).array();
    const Eigen::ArrayXd u_re = -s * ar - w * ai - d * br, u_im = w * ar - s * ai - d * bi;
    const Eigen::ArrayXd v_re = s * br + w * bi - d * ar, v_im = s * bi - w * br - d * ai;
    x_re.col(p) = u_re * inv_re - u_im * inv_im;
    x_im.col(p) = u_re * inv_im + u_im * inv_re;
    x_re.col(count + p) = v_re * inv_re - v_im * inv_im;
    x_im.col(count + p) = v_re * inv_im + v_im * inv_re;
  }
  out.real.noalias() = left_ * x_re.transpose();
  out.imaginary.noalias() = left_ * x_im.transpose();
}

}  // namespace seamwright::loads
