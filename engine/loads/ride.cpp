// SPDX-License-Identifier: GPL-3.0-or-later
#include "engine/loads/ride.h"

#include <algorithm>
#include <cmath>
#include <complex>

#include "engine/evidence/constants.h"

namespace seamwright::loads {

namespace {

using Complex = std::complex<double>;

// Weights of a force that runs straight over one step: dz/dt = pole z + force.
struct Step {
  Eigen::ArrayXcd keep, from, to;
};

Step step_of(const Eigen::VectorXcd& poles, double seconds) {
  Step s{poles.array(), poles.array(), poles.array()};
  for (Eigen::Index i = 0; i < poles.size(); ++i) {
    const Complex m = poles[i] * seconds;
    s.keep[i] = std::exp(m);
    // (e^m - 1)/m and (e^m - 1 - m)/m^2, by series where they would lose their digits.
    const bool small = std::abs(m) < 1e-3;
    const Complex whole = small ? 1.0 + m / 2.0 + m * m / 6.0 : (s.keep[i] - 1.0) / m;
    const Complex late = small ? 0.5 + m / 6.0 + m * m / 24.0 : (s.keep[i] - 1.0 - m) / (m * m);
    s.to[i] = seconds * late;
    s.from[i] = seconds * (whole - late);
  }
  return s;
}

Transfer::Poles poles_of(const State& state, const Transfer& transfer, double damping) {
  if (transfer.by_poles()) return transfer.pole_form(state);
  for (const double more : {1e-6, 1e-4}) {
    const Transfer damped(state, damping + more);
    if (damped.by_poles()) return damped.pole_form(state);
  }
  throw Fault{Message{"loads.defective", {}}};
}

// The tyres' part: positions and speeds of the contacts from the poles, and how a change of force moves them.
struct Contacts {
  Eigen::MatrixXcd place, speed;           // wheels x poles; mm -> m
  Eigen::MatrixXd place_gain, speed_gain;  // wheels x inputs: of this sample's force
};

Contacts contacts_of(const State& state, const Transfer::Poles& poles, const Step& step) {
  const Eigen::MatrixXd radial = state.assembly.tyre_radial.transpose() / mm_per_m;
  Contacts c;
  c.place = 2.0 * (radial * state.moving.shapes).cast<Complex>() * poles.left;
  c.speed = c.place * poles.pole.asDiagonal();
  const Eigen::MatrixXcd now = step.to.matrix().asDiagonal() * poles.right;
  c.place_gain = (c.place * now).real();
  c.speed_gain = (c.speed * now).real();
  return c;
}

class Stepper {
 public:
  Stepper(const State& state, Transfer::Poles poles, const Ground& ground)
      : state_(state),
        ground_(ground),
        poles_(std::move(poles)),
        step_(step_of(poles_.pole, 1 / ground.rate_hz)),
        contacts_(contacts_of(state, poles_, step_)),
        wheels_(ground.height_m.rows()),
        inputs_(poles_.right.cols()),
        stiffness_(state.assembly.tyre_stiffness * mm_per_m),
        damping_(state.assembly.tyre_damping * mm_per_m),
        z_(Eigen::VectorXcd::Zero(poles_.pole.size())),
        force_(Eigen::VectorXd::Zero(inputs_)),
        from_(step_.from.matrix().asDiagonal() * poles_.right),
        to_(step_.to.matrix().asDiagonal() * poles_.right) {}

  // One sample on: the forces at its end, then the poles.
  void advance(Eigen::Index sample) {
    const Eigen::VectorXd h = ground_.height_m.col(sample), rate = rise(sample),
                          slope = ground_.slope.col(sample);
    Eigen::VectorXcd history = step_.keep.matrix().cwiseProduct(z_);
    history.noalias() += from_ * force_;
    const Eigen::VectorXd place = (contacts_.place * history).real(),
                          speed = (contacts_.speed * history).real();
    Eigen::VectorXd next = Eigen::VectorXd::Zero(inputs_);
    next.head(wheels_) = stiffness_.cwiseProduct(h) + damping_.cwiseProduct(rate);
    const Eigen::VectorXd ground_force = next.head(wheels_);
    Eigen::VectorXd lift = Eigen::VectorXd::Zero(wheels_);
    // The tyres hardly feel each other within a step: a few rounds settle them.
    for (int round = 0; round < 8; ++round) {
      next.head(wheels_) = ground_force + lift;
      tyre_ = state_.static_wheel_load_n + stiffness_.cwiseProduct(h - place - contacts_.place_gain * next) +
              damping_.cwiseProduct(rate - speed - contacts_.speed_gain * next);
      double change = 0;
      for (Eigen::Index j = 0; j < wheels_; ++j) {
        const double own =
            stiffness_[j] * contacts_.place_gain(j, j) + damping_[j] * contacts_.speed_gain(j, j);
        const double wanted = std::max(0.0, lift[j] - (tyre_[j] + lift[j]) / std::max(0.05, 1 - own));
        change = std::max(change, std::abs(wanted - lift[j]));
        lift[j] = wanted;
        const double push = -std::max(0.0, tyre_[j] + wanted) * slope[j];
        change = std::max(change, std::abs(push - next[wheels_ + j]));
        next[wheels_ + j] = push;
      }
      if (change < 1e-6) break;
    }
    next.head(wheels_) = ground_force + lift;
    tyre_ += lift;
    lifted_ = (lift.array() > 0).cast<double>();
    z_ = history;
    z_.noalias() += to_ * next;
    force_ = next;
  }

  void write(Eigen::Ref<Eigen::VectorXd> coordinates) const { coordinates = 2 * (poles_.left * z_).real(); }
  const Eigen::VectorXd& tyre_force() const { return tyre_; }
  const Eigen::VectorXd& lifted() const { return lifted_; }

 private:
  // Vertical speed of the ground under each wheel, m/s.
  Eigen::VectorXd rise(Eigen::Index sample) const {
    const Eigen::Index before = std::max<Eigen::Index>(0, sample - 1),
                       after = std::min(sample + 1, ground_.height_m.cols() - 1);
    if (after == before) return Eigen::VectorXd::Zero(wheels_);
    return (ground_.height_m.col(after) - ground_.height_m.col(before)) * ground_.rate_hz /
           static_cast<double>(after - before);
  }

  const State& state_;
  const Ground& ground_;
  Transfer::Poles poles_;
  Step step_;
  Contacts contacts_;
  Eigen::Index wheels_, inputs_;
  Eigen::VectorXd stiffness_, damping_;
  Eigen::VectorXcd z_;
  Eigen::VectorXd force_, tyre_, lifted_;
  Eigen::MatrixXcd from_, to_;  // poles x inputs: of the forces at both ends of a step
};

}  // namespace

Ride ride(const State& state, double structural_damping, const Ground& ground, Eigen::Index every) {
  return ride(state, Transfer(state, structural_damping), structural_damping, ground, every);
}

Ride ride(const State& state, const Transfer& transfer, double structural_damping, const Ground& ground,
          Eigen::Index every) {
  Stepper stepper(state, poles_of(state, transfer, structural_damping), ground);
  const Eigen::Index samples = ground.height_m.cols(), wheels = ground.height_m.rows();
  Ride r;
  r.coordinates.resize(state.moving.shapes.cols(), (samples + every - 1) / every);
  r.lift_share = r.largest_force_n = Eigen::VectorXd::Zero(wheels);
  for (Eigen::Index i = 0; i < samples; ++i) {
    stepper.advance(i);
    r.lift_share += stepper.lifted() / static_cast<double>(samples);
    r.largest_force_n = r.largest_force_n.cwiseMax(stepper.tyre_force());
    if (i % every == 0) stepper.write(r.coordinates.col(i / every));
  }
  return r;
}

double settling_s(const Transfer& transfer) {
  constexpr double longest_s = 6;
  double decay = 1e9;
  for (Eigen::Index i = 0; i < transfer.poles().size(); ++i)
    decay = std::min(decay, -transfer.poles()[i].real());
  return std::min(longest_s, std::log(100.0) / std::max(decay, 0.1));
}

}  // namespace seamwright::loads
